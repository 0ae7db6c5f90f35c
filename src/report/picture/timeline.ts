// The timeline of a job: what was planned beside what was reported, phase by phase, what waits, and the flags.

import type { JobEvent } from '../../../shared/event.ts';
import { type Flag, flagKey } from '../../../shared/flag.ts';
import { LEVELS, PHASES } from '../../../shared/plan.ts';
import { clockTime, duration, stepTitle } from '../../desk/say.ts';
import { announcedFlags } from '../../desk/turn/log.ts';
import type { JobView } from '../../job/view.ts';
import {
  bar,
  fitted,
  INKS,
  levelShape,
  MARGIN,
  type Mode,
  PHONE,
  type Picture,
  picture,
  rule,
  words,
} from './svg.ts';
import { ticks } from './time-axis.ts';

export type PhaseLine = {
  readonly phase: (typeof PHASES)[number];
  readonly done: number;
  readonly of: number;
  /** Hands-on minutes of the plan, (best + 4 likely + worst) / 6 for each step and position. */
  readonly planned: number;
  /** ISO times of the first and last report; null before the first. */
  readonly from: string | null;
  readonly to: string | null;
};

export const phaseLines = (view: JobView): readonly PhaseLine[] =>
  PHASES.flatMap((phase) => {
    const ids = new Set(view.plan.steps.filter((step) => step.phase === phase).map(({ id }) => id));
    const steps = view.steps.filter(({ step, state }) => ids.has(step) && state !== 'not-on-job');
    if (steps.length === 0) return [];
    const planned = steps.reduce((sum, { step }) => {
      const time = view.plan.stepById.get(step)?.time;
      return sum + (time ? (time.best + 4 * time.likely + time.worst) / 6 : 0);
    }, 0);
    const times = view.reports
      .filter(({ act }) => ids.has(act.step ?? ''))
      .map(({ when }) => when)
      .sort((a, b) => Date.parse(a) - Date.parse(b));
    return [
      {
        phase,
        done: steps.filter(({ state }) => state === 'done').length,
        of: steps.length,
        planned,
        from: times[0] ?? null,
        to: times.at(-1) ?? null,
      },
    ];
  });

type Mark = { readonly at: number; readonly flag: Flag };

/** Each flag where it was first said, else where the report that raised it was posted; flags of one moment are one mark. */
const marksOf = (view: JobView, events: readonly JobEvent[]): readonly Mark[] => {
  const said = announcedFlags(events);
  const posted = new Map<string, string>();
  for (const event of events)
    if (event.kind === 'message-posted') posted.set(event.message, event.at);
  return view.flags.flatMap((flag) => {
    const at = said.get(flagKey(flag))?.at ?? posted.get(flag.raisedBy[0] ?? '');
    return at === undefined ? [] : [{ at: Date.parse(at), flag }];
  });
};

type Wait = { readonly since: string; readonly says: string };

/** What blocks the job, and the hold points that wait for a release since their step was done. */
const waitsIn = (view: JobView): readonly Wait[] => [
  ...view.blocked.map(({ since, says }) => ({ since, says })),
  ...view.holds
    .filter(({ state }) => state === 'waits')
    .flatMap(({ step, position }): readonly Wait[] => {
      const since = view.steps.find((one) => one.step === step && one.position === position)?.at;
      if (!since) return [];
      const title = stepTitle(view, step);
      return [{ since, says: `release of "${title}"${position === null ? '' : `, ${position}`}` }];
    }),
];

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

export type TimelineOptions = {
  readonly now: string;
  /** IANA time zone of the workshop. */
  readonly zone: string;
  readonly mode?: Mode;
};

/** @param events of the same job, for when flags were said */
export const timelinePicture = (
  view: JobView,
  events: readonly JobEvent[],
  { now, zone, mode = 'light' }: TimelineOptions,
): Picture => {
  const inks = INKS[mode];
  const lines = phaseLines(view);
  const marks = marksOf(view, events);
  const waits = waitsIn(view);
  const start = Date.parse(view.opened.at);
  const planned = lines.reduce((sum, line) => sum + line.planned, 0);
  const last = view.status === 'open' ? Date.parse(now) : Date.parse(view.lastEventAt);
  const end = Math.max(
    last,
    start + planned * 60_000,
    view.promised ? Date.parse(view.promised) : start,
    start + 60_000,
  );
  const width = PHONE - 2 * MARGIN;
  const x = (at: number): number =>
    MARGIN + (width * (Math.min(end, Math.max(start, at)) - start)) / (end - start);
  const say = (iso: string): string => clockTime(iso, now, zone);
  const title = `Job ${view.job}, ${view.opened.vehicle.name}`;
  const parts: string[] = [
    words(MARGIN, 22, fitted(title, width, 16), { size: 16, bold: true }),
    words(MARGIN, 38, fitted(view.plan.title, width), { fill: inks.quiet }),
  ];
  let y = 52;
  parts.push(legend(y, inks));
  y += 14;
  const top = y;
  const body: string[] = [];
  let plannedFrom = start;
  for (const line of lines) {
    y += 18;
    const when =
      line.from && line.to ? `, ${say(line.from)} to ${say(line.to)}` : ', no report yet';
    body.push(
      words(MARGIN, y, fitted(`${capital(line.phase)}: ${line.done} of ${line.of}${when}`, width)),
    );
    const plannedTo = plannedFrom + line.planned * 60_000;
    body.push(bar('planned', x(plannedFrom), y + 5, x(plannedTo) - x(plannedFrom), 8, inks));
    if (line.from && line.to)
      body.push(
        bar(
          'done',
          x(Date.parse(line.from)),
          y + 15,
          x(Date.parse(line.to)) - x(Date.parse(line.from)),
          8,
          inks,
        ),
      );
    plannedFrom = plannedTo;
    y += 26;
  }
  for (const wait of waits) {
    y += 18;
    body.push(words(MARGIN, y, fitted(`Waits since ${say(wait.since)}: ${wait.says}`, width)));
    body.push(
      bar(
        'waiting',
        x(Date.parse(wait.since)),
        y + 5,
        x(last) - x(Date.parse(wait.since)),
        8,
        inks,
      ),
    );
    y += 16;
  }
  if (marks.length > 0) {
    y += 18;
    body.push(words(MARGIN, y, 'Flags when they were raised'));
    for (const { at, flag } of onceEach(marks, x)) {
      const lane = LEVELS.indexOf(flag.level);
      body.push(levelShape(flag.level, x(at), y + 14 + lane * 16, inks.ink));
    }
    y += 60;
    for (const level of LEVELS) {
      const own = marks.filter(({ flag }) => flag.level === level);
      if (own.length === 0) continue;
      const open = own.filter(({ flag }) => !flag.clearedBy).length;
      body.push(levelShape(level, MARGIN + 6, y + 8, inks.ink));
      body.push(words(MARGIN + 18, y + 12, `${level}: ${own.length} raised, ${open} open`));
      y += 18;
    }
  }
  y += 10;
  const grid = axis(start, end, zone, x, top, y, inks);
  const ends = [
    verticalMark(x(last), top, y, inks.ink, '3 2'),
    ...(view.promised
      ? [verticalMark(x(Date.parse(view.promised)), top, y, inks.wait, '1 2')]
      : []),
  ];
  y += 18;
  const foot = [
    `dashed line: ${view.status === 'open' ? 'now' : view.status}, ${say(new Date(last).toISOString())}`,
    ...(view.promised ? [`dotted line: promised ${say(view.promised)}`] : []),
  ];
  parts.push(...grid, ...ends, ...body);
  for (const line of foot) {
    parts.push(words(MARGIN, y + 12, line, { size: 11, fill: inks.quiet }));
    y += 15;
  }
  return picture(
    title,
    timelineText(view, lines, marks, foot.join('; '), say),
    y + 10,
    inks,
    parts,
  );
};

/** Marks of one level that would cover each other are drawn once. */
const onceEach = (marks: readonly Mark[], x: (at: number) => number): readonly Mark[] => {
  const taken = new Set<string>();
  return marks.filter(({ at, flag }) => {
    const key = `${flag.level}|${Math.round(x(at) / (flag.level === 'caution' ? 12 : 6))}`;
    if (taken.has(key)) return false;
    taken.add(key);
    return true;
  });
};

const legend = (y: number, inks: (typeof INKS)['light']): string =>
  [
    bar('planned', MARGIN, y - 4, 22, 8, inks),
    words(MARGIN + 27, y + 4, 'planned', { size: 11 }),
    bar('done', MARGIN + 84, y - 4, 22, 8, inks),
    words(MARGIN + 111, y + 4, 'reported', { size: 11 }),
    bar('waiting', MARGIN + 170, y - 4, 22, 8, inks),
    words(MARGIN + 197, y + 4, 'waiting', { size: 11 }),
  ].join('');

const verticalMark = (x: number, top: number, bottom: number, ink: string, dash: string): string =>
  rule(x, top, x, bottom, ink, dash);

const axis = (
  start: number,
  end: number,
  zone: string,
  x: (at: number) => number,
  top: number,
  bottom: number,
  inks: (typeof INKS)['light'],
): readonly string[] => [
  rule(MARGIN, bottom, PHONE - MARGIN, bottom, inks.ink),
  ...ticks(start, end, zone).flatMap(({ at, says }) => {
    const place = x(at);
    const anchor = place > PHONE - 30 ? 'end' : place < 30 ? 'start' : 'middle';
    return [
      rule(place, top, place, bottom, inks.rule),
      words(place, bottom + 13, says, { size: 11, fill: inks.quiet, anchor }),
    ];
  }),
];

const timelineText = (
  view: JobView,
  lines: readonly PhaseLine[],
  marks: readonly Mark[],
  foot: string,
  say: (iso: string) => string,
): string =>
  [
    `Job ${view.job}, ${view.opened.vehicle.name}: ${view.plan.title}.`,
    ...lines.map(
      (line) =>
        `${capital(line.phase)}: ${line.done} of ${line.of} done, ${duration(line.planned)} planned, ${line.from && line.to ? `reported from ${say(line.from)} to ${say(line.to)}` : 'no report yet'}.`,
    ),
    ...waitsIn(view).map(({ since, says }) => `Waits since ${say(since)}: ${says}.`),
    ...LEVELS.flatMap((level) => {
      const own = marks.filter(({ flag }) => flag.level === level);
      const open = own.filter(({ flag }) => !flag.clearedBy).length;
      return own.length === 0 ? [] : [`${capital(level)}: ${own.length} raised, ${open} open.`];
    }),
    `${capital(foot)}.`,
  ].join('\n');
