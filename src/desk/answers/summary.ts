// The open jobs in one message, most urgent first, fit for a phone: where each stands, who, hours, what is in the way.
import type { Settings } from '../../../shared/settings.ts';
import type { JobView } from '../../job/view.ts';
import { isVehicle, isWork, type JobState, type JobsAsked } from '../asking/asked.ts';
import { bookedNow } from '../booked.ts';
import { calendarOf } from '../calendar.ts';
import type { Card } from '../card.ts';
import { forecastWorkshop, type JobForecast, type PastJobs } from '../forecast/forecast.ts';
import { clockTime, duration, ended, list } from '../say.ts';
import { type Wait, waitKindsOf, waitsIn, waitWords } from '../waits.ts';
import { byUrgency, plannedMinutes } from './open-jobs.ts';
import { flagsStanding, phaseOf, progressOf } from './where.ts';

export type SummaryGround = {
  readonly settings: Settings;
  /** ISO with offset. */
  readonly now: string;
  /** Whether the asker may see hours. */
  readonly hours: boolean;
  readonly past?: PastJobs;
};

/** Jobs shown on a phone's two screens; the rest is counted. */
const MOST = 8;
/** Letters of one wait. */
const SHORT = 70;

type Told = {
  readonly view: JobView;
  readonly waits: readonly Wait[];
  readonly forecast: JobForecast | undefined;
};

const cut = (text: string): string =>
  text.length > SHORT ? `${text.slice(0, SHORT - 1).trimEnd()}…` : text;

const isPast = (view: JobView, now: string): boolean =>
  view.promised !== undefined && Date.parse(view.promised) < Date.parse(now);

/** Past its promise, or more likely than not to be. */
export const isLate = (
  view: JobView,
  forecast: Pick<JobForecast, 'late'> | undefined,
  now: string,
): boolean => isPast(view, now) || (forecast?.late ?? 0) > 0.5;

const readyWords = ({ view, forecast }: Told, now: string, zone: string): string | undefined => {
  const say = (iso: string): string => clockTime(iso, now, zone);
  const ready = forecast?.likely
    ? `ready ${say(forecast.likely)}${forecast.cautious ? `, cautiously ${say(forecast.cautious)}` : ''}`
    : undefined;
  const promised = view.promised === undefined ? undefined : `promised ${say(view.promised)}`;
  if (isPast(view, now)) return [`late: ${promised}`, ...(ready ? [ready] : [])].join(', ');
  if (promised && isLate(view, forecast, now)) return `will be late: ${ready}, ${promised}`;
  return [ready, promised].filter((words) => words !== undefined).join(', ') || undefined;
};

/** "1 STOP open, 2 cautions open"; undefined where no flag stands. */
export const flagWords = (view: JobView): string | undefined => {
  const flags = flagsStanding(view);
  const stops = flags.filter(({ level }) => level === 'stop').length;
  const cautions = flags.length - stops;
  const words = [
    ...(stops > 0 ? [`${stops} STOP open`] : []),
    ...(cautions > 0 ? [`${cautions} ${cautions === 1 ? 'caution' : 'cautions'} open`] : []),
  ];
  return words.length > 0 ? words.join(', ') : undefined;
};

const waitsWords = (
  waits: readonly Wait[],
  most: number,
  now: string,
  zone: string,
): string | undefined => {
  if (waits.length === 0) return undefined;
  const shown = waits.slice(0, most).map((wait) => {
    const says = cut(wait.says);
    return waitWords({ ...wait, says }, now, zone);
  });
  const left = waits.length - shown.length;
  return `waits for ${shown.join('; ')}${left > 0 ? ` and ${left} more` : ''}`;
};

/** Booked against planned, of a job: "1 h 15 min booked of 6 h planned". Whoever is still on books until now. */
const hoursWords = (view: JobView, { settings, now }: SummaryGround): string | undefined => {
  const planned = plannedMinutes(view);
  const minutes = bookedNow(view, now, calendarOf(settings));
  if (minutes <= 0 && planned <= 0) return undefined;
  const booked = minutes > 0 ? `${duration(minutes)} booked` : 'no hours booked';
  return `${booked}${planned > 0 ? ` of ${duration(planned)} planned` : ''}`;
};

/** The work without its particulars: "Renew injectors". */
const workWords = (title: string): string => title.split(',')[0] ?? title;

const lineOf = (told: Told, asked: JobsAsked, ground: SummaryGround): string => {
  const { settings, now, hours } = ground;
  const { view, waits } = told;
  const { done, total } = progressOf(view);
  const states = view.vehicleState.map(({ title }) => title.toLowerCase());
  return ended(
    [
      `${view.job} ${view.opened.vehicle.name}, ${workWords(view.plan.title)}`,
      `${phaseOf(view) ?? 'all done'}, ${done} of ${total}`,
      flagWords(view),
      readyWords(told, now, settings.zone),
      waitsWords(
        asked.waitsFor ? waits.filter(({ kind }) => kind === asked.waitsFor) : waits,
        asked.states.includes('waiting') ? 3 : 1,
        now,
        settings.zone,
      ),
      states.length > 0 ? list(states, 2) : undefined,
      view.technician ?? 'with nobody',
      hours ? hoursWords(view, ground) : undefined,
    ]
      .filter((part) => part !== undefined)
      .join(' · '),
  );
};

const STATE_TEST: Readonly<Record<JobState, (told: Told, now: string) => boolean>> = {
  late: ({ view, forecast }, now) => isLate(view, forecast, now),
  waiting: ({ waits }) => waits.length > 0,
  blocked: ({ view }) => view.blocked.length > 0,
  flagged: ({ view }) => flagsStanding(view).length > 0,
  stopped: ({ view }) => flagsStanding(view).some(({ level }) => level === 'stop'),
  'to-close': ({ view }) => view.closeNeeds.length === 0,
  nobody: ({ view }) => view.technician === undefined,
};

const STATE_WORDS: Readonly<Record<JobState, string>> = {
  late: 'late',
  waiting: 'waiting',
  blocked: 'blocked',
  flagged: 'with flags open',
  stopped: 'with a stop open',
  'to-close': 'ready to close',
  nobody: 'with nobody on them',
};

/** "late, waiting for parts, with Nell, on bus 417". */
const filterWords = (asked: JobsAsked): string =>
  [
    ...asked.states.map((state) =>
      state === 'waiting' && asked.waitsFor ? `waiting for ${asked.waitsFor}` : STATE_WORDS[state],
    ),
    ...(asked.phase ? [`in "${asked.phase}"`] : []),
    ...(asked.work ? [`of the work "${asked.work}"`] : []),
    ...(asked.person ? [`with ${asked.person}`] : []),
    ...(asked.vehicle ? [`on ${asked.vehicle}`] : []),
  ].join(', ');

const fits = (told: Told, asked: JobsAsked, now: string): boolean => {
  const { view, waits } = told;
  return (
    asked.states.every((state) => STATE_TEST[state](told, now)) &&
    (asked.waitsFor === undefined || waits.some(({ kind }) => kind === asked.waitsFor)) &&
    (asked.phase === undefined || phaseOf(view) === asked.phase) &&
    (asked.person === undefined || worksOn(view, asked.person)) &&
    (asked.vehicle === undefined || isVehicle(view.opened.vehicle.name, asked.vehicle)) &&
    (asked.work === undefined ||
      isWork({ plan: view.plan.plan, title: view.plan.title }, asked.work))
  );
};

/** Somebody's jobs: theirs as technician or controller, and those with a step of theirs in hand. */
const worksOn = (view: JobView, person: string): boolean =>
  view.technician === person ||
  view.controller === person ||
  view.steps.some(({ by, state }) => by === person && (state === 'started' || state === 'partial'));

/** What stands above the lines: how many are late, stopped, waiting and for what. */
const headWords = (all: readonly Told[], now: string): string => {
  const count = (state: JobState): number =>
    all.filter((told) => STATE_TEST[state](told, now)).length;
  const [late, stopped] = [count('late'), count('stopped')];
  const waits = all.flatMap((told) => told.waits);
  return list([
    ...(late > 0 ? [`${late} late`] : []),
    ...(stopped > 0 ? [`${stopped} with a stop open`] : []),
    ...(waits.length > 0
      ? [
          `${all.filter(({ waits: own }) => own.length > 0).length} waiting for ${waitKindsOf(waits)}`,
        ]
      : []),
  ]);
};

/** Open jobs by what was asked, most urgent first; long lists are cut and what is left out is counted. */
export const summaryCard = (
  views: readonly JobView[],
  asked: JobsAsked,
  ground: SummaryGround,
): Card => {
  const { settings, now } = ground;
  const open = byUrgency(
    views.filter(({ status }) => status === 'open'),
    now,
  );
  const forecasts = forecastWorkshop(open, { settings, now, past: ground.past ?? new Map() });
  const names = settings.people.map(({ name }) => name);
  const chosen = open
    .map(
      (view): Told => ({
        view,
        waits: waitsIn(view, names),
        forecast: forecasts.get(view.job),
      }),
    )
    .filter((told) => fits(told, asked, now));
  const filter = filterWords(asked);
  const title = filter ? `Open jobs ${filter}` : 'Open jobs';
  if (chosen.length === 0) {
    const says = filter ? `${title}: none of ${open.length} open.` : 'No job is open.';
    return { title, text: says, blocks: [{ kind: 'text', text: says }] };
  }
  const lines = chosen.slice(0, MOST).map((told) => lineOf(told, asked, ground));
  const left = chosen.slice(MOST);
  if (left.length > 0) {
    const rest = headWords(left, now);
    lines.push(
      `and ${left.length} more, less urgent${rest === 'nothing' ? '' : `: ${rest}`}. Ask for fewer: "late jobs", "NAME's jobs", "jobs on bus 17".`,
    );
  }
  const head = chosen.length > 1 ? headWords(chosen, now) : 'nothing';
  const heads = head === 'nothing' ? [] : [ended(head)];
  return {
    title: `${title}: ${chosen.length}`,
    text: [`${title}: ${chosen.length}.`, ...heads, ...lines].join('\n'),
    blocks: [
      ...heads.map((text) => ({ kind: 'text' as const, text })),
      { kind: 'list', items: lines },
    ],
  };
};
