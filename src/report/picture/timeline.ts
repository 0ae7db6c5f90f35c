// The timeline of a job: what was planned beside what was reported, phase by phase, what waited and waits, the flags,
// and when it will be ready. Nights and days off are a narrow gap.
import type { JobEvent } from '../../../shared/event.ts';
import { LEVELS } from '../../../shared/plan.ts';
import { readyWords } from '../../desk/answers/forecast.ts';
import type { JobForecast } from '../../desk/forecast/forecast.ts';
import { planLaidOut } from '../../desk/forecast/plan-laid-out.ts';
import { workshopHours } from '../../desk/forecast/workshop-hours.ts';
import { clockTime, duration } from '../../desk/say.ts';
import type { JobView } from '../../job/view.ts';
import type { WorkCalendar } from '../../trade/work-calendar.ts';
import {
  bar,
  block,
  diamond,
  fitted,
  INKS,
  type Inks,
  levelShape,
  MARGIN,
  type Mode,
  PHONE,
  type Picture,
  picture,
  rule,
  SMALL,
  words,
} from './svg.ts';
import { type TimeScale, timeScale } from './time-scale.ts';
import {
  type Mark,
  marksOf,
  type PhaseLine,
  phaseLines,
  type WaitSpan,
  waitSpans,
} from './timeline-facts.ts';

export type TimelineOptions = {
  readonly now: string;
  /** IANA time zone of the workshop. */
  readonly zone: string;
  readonly mode?: Mode;
  /** Hours of the workshop; day and night where left out. */
  readonly calendar?: WorkCalendar | undefined;
  /** When it will be ready, for an open job. */
  readonly ready?: Pick<JobForecast, 'likely' | 'cautious'>;
};

/** Waits drawn at most, the latest; earlier ones are counted. */
const MOST_WAITS = 5;
const WIDTH = PHONE - 2 * MARGIN;

type Facts = {
  readonly view: JobView;
  readonly lines: readonly PhaseLine[];
  readonly marks: readonly Mark[];
  readonly waits: readonly WaitSpan[];
  readonly earlierWaits: number;
  readonly ready: Pick<JobForecast, 'likely' | 'cautious'> | undefined;
  readonly last: number;
  readonly now: string;
  readonly zone: string;
};

/** @param events of the same job, for when flags were said */
export const timelinePicture = (
  view: JobView,
  events: readonly JobEvent[],
  options: TimelineOptions,
): Picture => {
  const { now, zone, mode = 'light', calendar, ready } = options;
  const hours = calendar ?? workshopHours({ zone });
  const lines = phaseLines(view, hours ? planLaidOut(view, hours) : new Map());
  const waits = waitSpans(view, events);
  const facts: Facts = {
    view,
    lines,
    marks: marksOf(view, events),
    waits: waits.slice(-MOST_WAITS),
    earlierWaits: Math.max(0, waits.length - MOST_WAITS),
    ready: view.status === 'open' && ready?.likely ? ready : undefined,
    last: Date.parse(view.status === 'open' ? now : view.lastEventAt),
    now,
    zone,
  };
  const scale = scaleOf(facts, calendar);
  return drawn(facts, scale, INKS[mode]);
};

const scaleOf = (
  { view, lines, last, ready, zone }: Facts,
  calendar: WorkCalendar | undefined,
): TimeScale => {
  const start = Date.parse(view.opened.at);
  const end = Math.max(
    last,
    start + 60_000,
    ...lines.flatMap(({ planned }) => planned?.to ?? []),
    ...[view.promised, ready?.likely, ready?.cautious].flatMap((iso) =>
      iso ? Date.parse(iso) : [],
    ),
  );
  return timeScale(start, end, { left: MARGIN, width: WIDTH }, zone, calendar);
};

/** Draws downwards: each part says how far down it reaches. */
type Part = { readonly y: number; readonly marks: readonly string[] };

const drawn = (facts: Facts, scale: TimeScale, inks: Inks): Picture => {
  const { view, last, now, zone } = facts;
  const title = `Job ${view.job}, ${view.opened.vehicle.name}`;
  const head = [
    words(MARGIN, 22, fitted(title, WIDTH, 17), { size: 17, bold: true }),
    words(MARGIN, 40, fitted(view.plan.title, WIDTH), { fill: inks.quiet }),
    legend(56, inks),
  ];
  const top = 68;
  const rows = [phaseRows, waitRows, flagRows, readyRow].reduce<Part>(
    (above, draw) => {
      const part = draw(facts, scale, above.y, inks);
      return { y: part.y, marks: [...above.marks, ...part.marks] };
    },
    { y: top, marks: [] },
  );
  const bottom = rows.y + 10;
  const promised = view.promised ? Date.parse(view.promised) : undefined;
  const foot = footLines(facts);
  const ends = [
    rule(scale.x(last), top, scale.x(last), bottom, inks.ink, '4 3'),
    ...(promised === undefined
      ? []
      : [rule(scale.x(promised), top, scale.x(promised), bottom, inks.wait, '1.5 2.5', 2)]),
  ];
  const below = foot.map((line, index) =>
    words(MARGIN, bottom + 33 + 17 * index, fitted(line, WIDTH, SMALL), {
      size: SMALL,
      fill: inks.quiet,
    }),
  );
  return picture(title, timelineText(facts), bottom + 28 + 17 * foot.length, inks, [
    ...scale.gaps.map(({ x, width }) => block(x, top, width, bottom - top, inks)),
    ...head,
    ...axis(scale, top, bottom, inks),
    ...ends,
    ...rows.marks,
    ...below,
  ]);

  function footLines({ ready }: Facts): readonly string[] {
    const say = (iso: string): string => clockTime(iso, now, zone);
    return [
      `dashed: ${view.status === 'open' ? 'now' : view.status}, ${say(new Date(last).toISOString())}${view.promised ? `; dotted: promised ${say(view.promised)}` : ''}`,
      ...(scale.gaps.length > 0 ? ['grey: hours in which nobody works, drawn short'] : []),
      ...(ready ? ['diamond: likely ready; bar: cautiously'] : []),
    ];
  }
};

const sayIn =
  ({ now, zone }: Facts) =>
  (iso: string): string =>
    clockTime(iso, now, zone);

const phaseRows = (facts: Facts, scale: TimeScale, top: number, inks: Inks): Part => {
  const say = sayIn(facts);
  const marks: string[] = [];
  let y = top;
  for (const line of facts.lines) {
    y += 20;
    const when =
      line.from && line.to ? `, ${say(line.from)} to ${say(line.to)}` : ', no report yet';
    const says = `${capital(line.phase)}: ${line.done} of ${line.of}${when}`;
    marks.push(words(MARGIN, y, fitted(says, WIDTH), { paper: inks.paper }));
    if (line.planned) marks.push(span('planned', line.planned, y + 5, scale, inks));
    if (line.from && line.to) {
      const reported = { from: Date.parse(line.from), to: Date.parse(line.to) };
      marks.push(span('done', reported, y + 15, scale, inks));
    }
    y += 26;
  }
  return { y, marks };
};

const waitRows = (facts: Facts, scale: TimeScale, top: number, inks: Inks): Part => {
  const marks: string[] = [];
  let y = top;
  for (const wait of facts.waits) {
    y += 20;
    const to = wait.to === null ? facts.last : Date.parse(wait.to);
    marks.push(words(MARGIN, y, fitted(waitWords(wait, facts), WIDTH), { paper: inks.paper }));
    marks.push(span('waiting', { from: Date.parse(wait.from), to }, y + 5, scale, inks));
    y += 16;
  }
  return { y, marks };
};

const waitWords = ({ from, to, says }: WaitSpan, facts: Facts): string => {
  const say = sayIn(facts);
  return to === null
    ? `Waits since ${say(from)}: ${says}`
    : `Waited ${say(from)} to ${say(to)}: ${says}`;
};

const flagRows = ({ marks: flags }: Facts, scale: TimeScale, top: number, inks: Inks): Part => {
  const marks: string[] = [];
  let y = top;
  for (const level of LEVELS) {
    const own = flags.filter(({ flag }) => flag.level === level);
    if (own.length === 0) continue;
    const open = own.filter(({ flag }) => !flag.clearedBy).length;
    const says = `Flags, ${level}: ${own.length} raised, ${open} open`;
    y += 20;
    marks.push(words(MARGIN, y, says, { paper: inks.paper }));
    y += 15;
    marks.push(rule(MARGIN, y, PHONE - MARGIN, y, inks.rule));
    for (const { at } of onceEach(own, scale.x))
      marks.push(levelShape(level, scale.x(at), y, inks.ink));
    y += 9;
  }
  return { y, marks };
};

/** A diamond at the likely time, a bar at the cautious one, a line between: no bar of plan or work looks like it. */
const readyRow = (facts: Facts, scale: TimeScale, top: number, inks: Inks): Part => {
  const { ready, now, zone } = facts;
  if (!ready?.likely) return { y: top, marks: [] };
  const y = top + 20;
  const line = y + 14;
  const from = scale.x(Date.parse(ready.likely));
  const to = ready.cautious ? scale.x(Date.parse(ready.cautious)) : from;
  return {
    y: y + 22,
    marks: [
      words(MARGIN, y, fitted(`Ready ${readyWords(ready, now, zone)}`, WIDTH), {
        bold: true,
        paper: inks.paper,
      }),
      rule(from, line, to, line, inks.ink, undefined, 2),
      diamond(from, line, inks.ink),
      ...(ready.cautious ? [rule(to, line - 7, to, line + 7, inks.ink, undefined, 3)] : []),
    ],
  };
};

const span = (
  fill: 'planned' | 'done' | 'waiting',
  { from, to }: { readonly from: number; readonly to: number },
  y: number,
  { x }: TimeScale,
  inks: Inks,
): string => {
  // A bar is never thinner than 2, and one at the end of time stays inside the picture.
  const left = Math.min(x(from), PHONE - MARGIN - 2);
  return bar(fill, left, y, x(to) - left, 8, inks);
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Marks of one level that would cover each other are drawn once. */
const onceEach = (marks: readonly Mark[], x: (at: number) => number): readonly Mark[] => {
  const taken = new Set<number>();
  return marks.filter(({ at, flag }) => {
    const place = Math.round(x(at) / (flag.level === 'caution' ? 12 : 6));
    if (taken.has(place)) return false;
    taken.add(place);
    return true;
  });
};

const legend = (y: number, inks: Inks): string =>
  [
    bar('planned', MARGIN, y - 4, 22, 8, inks),
    words(MARGIN + 27, y + 4, 'planned', { size: SMALL }),
    bar('done', MARGIN + 84, y - 4, 22, 8, inks),
    words(MARGIN + 111, y + 4, 'reported', { size: SMALL }),
    bar('waiting', MARGIN + 170, y - 4, 22, 8, inks),
    words(MARGIN + 197, y + 4, 'waiting', { size: SMALL }),
  ].join('');

const axis = (scale: TimeScale, top: number, bottom: number, inks: Inks): readonly string[] => [
  rule(MARGIN, bottom, PHONE - MARGIN, bottom, inks.ink),
  ...scale.ticks.flatMap(({ at, says }) => {
    const place = scale.x(at);
    const anchor = place > PHONE - 30 ? 'end' : place < 30 ? 'start' : 'middle';
    return [
      rule(place, top, place, bottom, inks.rule),
      words(place, bottom + 14, says, { size: SMALL, fill: inks.quiet, anchor }),
    ];
  }),
];

const timelineText = (facts: Facts): string => {
  const { view, lines, marks, waits, earlierWaits, ready, last, now, zone } = facts;
  const say = sayIn(facts);
  const state = view.status === 'open' ? 'Now' : capital(view.status);
  return [
    `Job ${view.job}, ${view.opened.vehicle.name}: ${view.plan.title}.`,
    ...lines.map((line) => {
      const planned = line.planned
        ? `planned ${duration(line.minutes)}, ${say(new Date(line.planned.from).toISOString())} to ${say(new Date(line.planned.to).toISOString())}`
        : line.minutes > 0
          ? `planned ${duration(line.minutes)}`
          : 'no time planned';
      const reported =
        line.from && line.to
          ? `reported from ${say(line.from)} to ${say(line.to)}`
          : 'no report yet';
      return `${capital(line.phase)}: ${line.done} of ${line.of} done; ${planned}; ${reported}.`;
    }),
    ...(earlierWaits > 0 ? [`${earlierWaits} earlier waits are not shown.`] : []),
    ...waits.map((wait) => `${waitWords(wait, facts)}.`),
    ...LEVELS.flatMap((level) => {
      const own = marks.filter(({ flag }) => flag.level === level);
      const open = own.filter(({ flag }) => !flag.clearedBy).length;
      return own.length === 0 ? [] : [`${capital(level)}: ${own.length} raised, ${open} open.`];
    }),
    `${state}: ${say(new Date(last).toISOString())}${view.promised ? `; promised ${say(view.promised)}` : ''}.`,
    ...(ready ? [`Ready ${readyWords(ready, now, zone)}.`] : []),
  ].join('\n');
};
