// "How did last week go": closed, opened, late, stopped, found, hours, for the office; the weekly note says the same.
import type { JobView } from '../../job/view.ts';
import type { Between } from '../asking/span.ts';
import type { Card } from '../card.ts';
import { clockDate, clockTime, duration, ended, list } from '../say.ts';
import type { PastJob } from './history.ts';
import { plannedMinutes } from './open-jobs.ts';

export type WeekGround = {
  readonly zone: string;
  /** ISO with offset. */
  readonly now: string;
  readonly hours: boolean;
  readonly span: Between;
};

const MOST = 8;

const inSpan = (iso: string, { from, to }: Between): boolean => {
  const at = Date.parse(iso);
  return at >= from && at < to;
};

/** Stops that reports of the span raised, with what became of them. */
const stopsIn = (views: readonly JobView[], span: Between) =>
  views.flatMap((view) => {
    const posted = new Map(view.reports.map((report) => [report.message, report.posted]));
    return view.flags.filter(
      (flag) =>
        flag.level === 'stop' &&
        flag.rule !== 'early-close' &&
        flag.raisedBy.some((message) => inSpan(posted.get(message) ?? '', span)),
    );
  });

const closedLine = ({ view, closedAt }: PastJob, { zone, now, hours }: WeekGround): string => {
  const promised = view.promised;
  const kept =
    promised === undefined
      ? undefined
      : Date.parse(closedAt) <= Date.parse(promised)
        ? 'promise kept'
        : `promised ${clockTime(promised, now, zone)}`;
  const planned = plannedMinutes(view);
  return ended(
    [
      `${view.job} ${view.opened.vehicle.name}, ${view.plan.title.split(',')[0]}`,
      `${view.status === 'cancelled' ? 'cancelled' : 'closed'} ${clockTime(closedAt, now, zone)}`,
      kept,
      view.technician,
      hours && view.minutesBooked > 0
        ? `${duration(view.minutesBooked)} booked${planned > 0 ? ` of ${duration(planned)} planned` : ''}`
        : undefined,
    ]
      .filter((part) => part !== undefined)
      .join(' · '),
  );
};

/**
 * What a week came to; undefined where nothing happened in it and nothing is open.
 * @param past jobs closed or cancelled since the week began, newest first
 */
export const weekCard = (
  open: readonly JobView[],
  past: readonly PastJob[],
  ground: WeekGround,
): Card | undefined => {
  const { span, hours } = ground;
  const closed = past.filter(({ closedAt }) => inSpan(closedAt, span));
  const all = [...open, ...past.map(({ view }) => view)];
  const opened = all.filter((view) => inSpan(view.opened.at, span));
  const worked = all.filter((view) => view.reports.some(({ posted }) => inSpan(posted, span)));
  if (closed.length === 0 && opened.length === 0 && worked.length === 0) return undefined;
  const over = closed.filter(
    ({ view, closedAt }) =>
      view.promised !== undefined && Date.parse(closedAt) > Date.parse(view.promised),
  );
  const stops = stopsIn(all, span);
  const open1 = stops.filter(({ clearedBy }) => clearedBy === undefined).length;
  const overridden = stops.filter(({ how }) => how === 'overridden').length;
  const findings = all.flatMap(({ findings: own }) => own).filter(({ at }) => inSpan(at, span));
  const back = all.filter(
    (view) => inSpan(view.opened.at, span) && view.flags.some(({ rule }) => rule === 'back-again'),
  );
  const booked = hours
    ? all.filter((view) => worked.includes(view)).reduce((sum, view) => sum + view.minutesBooked, 0)
    : 0;
  const facts = [
    `${opened.length} opened, ${closed.length} closed${over.length > 0 ? `, ${over.length} of them after the promise` : ''}, ${open.length} open now.`,
    ...(stops.length > 0
      ? [
          ended(
            `${stops.length} ${stops.length === 1 ? 'stop' : 'stops'}: ${list([
              ...(stops.length - open1 - overridden > 0
                ? [`${stops.length - open1 - overridden} put right`]
                : []),
              ...(overridden > 0 ? [`${overridden} overridden with a reason`] : []),
              ...(open1 > 0 ? [`${open1} still open`] : []),
            ])}`,
          ),
        ]
      : ['No stop.']),
    ...(findings.length > 0
      ? [
          ended(
            `${findings.length} ${findings.length === 1 ? 'finding' : 'findings'}, ${findings.filter(({ state }) => state === 'approved').length} approved, ${findings.filter(({ state }) => state === 'open').length} not decided`,
          ),
        ]
      : []),
    ...(back.length > 0
      ? [
          ended(
            `Back again for the same work: ${list(back.map((view) => `${view.opened.vehicle.name} (${view.job})`))}`,
          ),
        ]
      : []),
    ...(booked > 0 ? [`${duration(booked)} booked on the jobs that were worked on.`] : []),
  ];
  const lines = closed.slice(0, MOST).map((job) => closedLine(job, ground));
  if (closed.length > MOST) lines.push(`and ${closed.length - MOST} more closed.`);
  const title = `Week of ${clockDate(`${span.first}T12:00:00Z`, 'utc')} to ${clockDate(`${span.last}T12:00:00Z`, 'utc')}`;
  return {
    title,
    text: [`${title}. ${facts.join(' ')}`, ...lines].join('\n'),
    blocks: [
      { kind: 'text', text: facts.join(' ') },
      ...(lines.length > 0 ? [{ kind: 'list' as const, items: lines }] : []),
    ],
  };
};
