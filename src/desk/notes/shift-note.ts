// What a shift note says: as a shift begins what stands, as it ends what was done. Silent where there is nothing to say.
import type { JobView } from '../../job/view.ts';
import type { PastJob } from '../answers/history.ts';
import { byUrgency } from '../answers/open-jobs.ts';
import { flagWords, summaryCard } from '../answers/summary.ts';
import { weekCard } from '../answers/week.ts';
import { phaseOf, progressOf, vehicleNow, vehicleStateWords } from '../answers/where.ts';
import type { Card } from '../card.ts';
import type { PastJobs } from '../forecast/forecast.ts';
import { isOut } from '../out-of-limits.ts';
import { clockDate, clockTime, ended, list, stepsGathered } from '../say.ts';
import { waitsIn, waitWords } from '../waits.ts';
import type { Workshop } from '../workshop.ts';
import type { DueNote } from './due.ts';

export type NoteGround = {
  readonly workshop: Workshop;
  /** ISO with offset. */
  readonly now: string;
  /** Whether hours may be told where the note is posted: to everybody in the common channel. */
  readonly hours: boolean;
  readonly past?: PastJobs;
};

const MOST = 8;

/** "1042 bus 417: Coolant out: do not start the engine". */
const unsafeLines = (views: readonly JobView[]): readonly string[] =>
  views.flatMap((view) =>
    vehicleStateWords(view).length > 0
      ? [ended(`${view.job} ${view.opened.vehicle.name}: ${vehicleNow(view)}`)]
      : [],
  );

const block = (label: string, items: readonly string[]): Card['blocks'] =>
  items.length > 0
    ? [
        { kind: 'text', text: label },
        { kind: 'list', items: [...items] },
      ]
    : [];

/** What stands now: vehicles that are not safe to use first, then the open jobs. Undefined without an open job. */
export const shiftStandingCard = (
  open: readonly JobView[],
  { workshop, now, hours, past }: NoteGround,
  title = 'Shift note',
): Card | undefined => {
  if (open.length === 0) return undefined;
  const { settings } = workshop;
  const jobs = summaryCard(
    open,
    { ask: 'jobs', states: [] },
    {
      settings,
      now,
      hours,
      ...(past ? { past } : {}),
    },
  );
  const unsafe = unsafeLines(byUrgency(open, now));
  const shown = unsafe.slice(0, MOST);
  if (unsafe.length > shown.length) shown.push(`and ${unsafe.length - shown.length} more.`);
  return {
    title,
    text: [
      `${title}.`,
      ...(shown.length > 0 ? [`Vehicles now: ${shown.join(' ')}`] : []),
      jobs.text,
    ].join('\n'),
    blocks: [
      ...block('Vehicles now', shown),
      { kind: 'text', text: ended(jobs.title ?? 'Open jobs') },
      ...jobs.blocks,
    ],
  };
};

const within = (iso: string, { from, to }: Pick<DueNote, 'from' | 'to'>): boolean => {
  const at = Date.parse(iso);
  return at >= from && at < to;
};

/** What one job came to in a shift: steps done, by whom, and how it stands. */
const doneLine = (view: JobView, note: DueNote, names: readonly string[], ground: NoteGround) => {
  const { zone } = ground.workshop.settings;
  const reports = view.reports.filter(
    ({ posted, act }) => within(posted, note) && act.step !== undefined,
  );
  const steps = view.steps.filter(
    (step) =>
      step.state === 'done' && step.at !== null && within(step.at, note) && !isOut(view, step),
  );
  const who = [...new Set(reports.map(({ worker }) => worker))];
  const { done, total } = progressOf(view);
  const flags = flagWords(view);
  const [wait, ...waits] = waitsIn(view, names);
  const parts = [
    `${view.job} ${view.opened.vehicle.name}`,
    steps.length > 0
      ? `${steps.length} ${steps.length === 1 ? 'step' : 'steps'} done${who.length > 0 ? ` by ${list(who)}` : ''}, last: ${stepsGathered(view, steps.slice(-1)).join('; ')}`
      : who.length > 0
        ? `reports by ${list(who)}, no step finished`
        : 'no work reported',
    `${phaseOf(view) ?? 'all done'}, ${done} of ${total}`,
    ...(vehicleStateWords(view).length > 0 ? [vehicleNow(view)] : []),
    ...(flags ? [flags] : []),
    ...(wait
      ? [
          `waits for ${waitWords(wait, ground.now, zone)}${waits.length > 0 ? ` and ${waits.length} more` : ''}`,
        ]
      : []),
  ];
  return ended(parts.join(' · '));
};

/** What was done in a shift; undefined where nothing was reported, opened or closed in it. */
export const shiftEndCard = (
  open: readonly JobView[],
  past: readonly PastJob[],
  note: DueNote,
  ground: NoteGround,
): Card | undefined => {
  const { settings } = ground.workshop;
  const names = settings.people.map(({ name }) => name);
  const worked = byUrgency(
    open.filter(
      (view) =>
        within(view.opened.at, note) || view.reports.some(({ posted }) => within(posted, note)),
    ),
    ground.now,
  );
  const closed = past.filter(({ closedAt }) => within(closedAt, note));
  if (worked.length === 0 && closed.length === 0) return undefined;
  const lines = [
    ...worked.slice(0, MOST).map((view) => doneLine(view, note, names, ground)),
    ...(worked.length > MOST ? [`and ${worked.length - MOST} more that were worked on.`] : []),
    ...closed.map(({ view, closedAt }) =>
      ended(
        `${view.job} ${view.opened.vehicle.name}, ${view.plan.title}: ${view.status} ${clockTime(closedAt, ground.now, settings.zone)}`,
      ),
    ),
  ];
  const idle = open.length - worked.length;
  const rest = idle > 0 ? [`${idle} open ${idle === 1 ? 'job' : 'jobs'} not worked on.`] : [];
  const title = `End of the ${note.shift} shift, ${clockDate(new Date(note.from).toISOString(), settings.zone)}`;
  return {
    title,
    text: [`${title}.`, ...lines, ...rest].join('\n'),
    blocks: [
      { kind: 'list', items: lines },
      ...rest.map((text) => ({ kind: 'text' as const, text })),
    ],
  };
};

/** The card of a note that is due; undefined where it has nothing to say. */
export const noteCard = (
  note: DueNote,
  open: readonly JobView[],
  past: readonly PastJob[],
  ground: NoteGround,
): Card | undefined => {
  const { settings } = ground.workshop;
  switch (note.kind) {
    case 'shift-start': {
      const begun = clockTime(new Date(note.from).toISOString(), ground.now, settings.zone);
      return shiftStandingCard(
        open,
        ground,
        `Start of the ${note.shift} shift, ${clockDate(new Date(note.from).toISOString(), settings.zone)}, ${begun}`,
      );
    }
    case 'shift-end':
      return shiftEndCard(open, past, note, ground);
    case 'week':
      return weekCard(open, past, {
        zone: settings.zone,
        now: ground.now,
        hours: ground.hours,
        span: { from: note.from, to: note.to, first: note.date, last: lastDate(note) },
      });
  }
};

const lastDate = ({ date }: DueNote): string =>
  new Date(Date.parse(`${date}T00:00:00Z`) + 6 * 86_400_000).toISOString().slice(0, 10);
