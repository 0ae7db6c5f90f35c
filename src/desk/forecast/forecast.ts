// When jobs will be ready: the views of the desk put before the simulation, and what it says put into times.
import type { Settings } from '../../../shared/settings.ts';
import type { JobView } from '../../job/view.ts';
import { seedOf } from '../../trade/forecast/chance.ts';
import {
  aheadAt,
  type JobRun,
  type PastPace,
  paceSoFar,
  pastPace,
} from '../../trade/forecast/pace.ts';
import { type PaceBelief, paceBelief, type SoFar } from '../../trade/forecast/pace-belief.ts';
import {
  type Driver,
  type Expected,
  type JobFinish,
  simulateFinish,
} from '../../trade/forecast/simulate-finish.ts';
import { meanOf } from '../../trade/forecast/work-ahead.ts';
import { type WorkClock, workClock } from '../../trade/forecast/work-clock.ts';
import type { WorkCalendar } from '../../trade/work-calendar.ts';
import { byUrgency } from '../answers/open-jobs.ts';
import { calendarOf } from '../calendar.ts';
import { jobRun } from './job-run.ts';
import { workshopHours } from './workshop-hours.ts';

/** Past jobs by the name of their plan, the newest last. */
export type PastJobs = ReadonlyMap<string, readonly PastPace[]>;

export type ForecastGround = {
  readonly settings: Settings;
  /** ISO 8601 with offset. */
  readonly now: string;
  readonly past: PastJobs;
};

export type JobForecast = {
  readonly job: string;
  /** ISO 8601, to the quarter of an hour; null where nobody's hours reach so far, or nobody is there to do it. */
  readonly likely: string | null;
  readonly cautious: string | null;
  /** Share of the runs that end after the promise; null without one. */
  readonly late: number | null;
  readonly drivers: readonly Driver[];
  readonly people: readonly string[];
  readonly soFar: SoFar | null;
  readonly pace: PaceBelief;
  /** Steps with a time that have no record yet. */
  readonly left: number;
};

const QUARTER = 15 * 60_000;
/** Runs for one job, and steps drawn at most for all jobs together: about half a second of work at most. */
const RUNS = 300;
const MOST_DRAWS = 200_000;
const LEAST_RUNS = 100;
/** A report this long ago says that somebody still has their hands on the job. */
const LATELY = 14 * 3_600_000;

/** The hours of a person: the shifts the settings name for them, else every shift, else all day where there are none. */
const hoursOf = (settings: Settings, name: string): WorkCalendar | undefined => {
  const own = settings.people.find((person) => person.name === name)?.shifts;
  const shifts = settings.shifts?.filter((shift) => own?.includes(shift.name) ?? true);
  return (
    (shifts?.length ? calendarOf({ ...settings, shifts }) : undefined) ?? workshopHours(settings)
  );
};

const technicians = (settings: Settings): readonly string[] =>
  settings.people.filter(({ roles }) => roles.includes('technician')).map(({ name }) => name);

/** Who is on a job: its technician, and other technicians who reported work on it lately. Nobody: whoever is free. */
const peopleOn = (view: JobView, { settings, now }: ForecastGround): readonly string[] => {
  const since = Date.parse(now) - LATELY;
  const counts = new Map<string, number>();
  for (const { worker, when, act } of view.reports)
    if (act.step !== undefined && Date.parse(when) >= since)
      counts.set(worker, (counts.get(worker) ?? 0) + 1);
  const all = technicians(settings);
  const lately = all.filter((name) => (counts.get(name) ?? 0) >= 3);
  const own = view.technician === undefined ? [] : [view.technician];
  const found = [...new Set([...own, ...(own.length > 0 && lately.length < 2 ? [] : lately)])];
  return found.length > 0 ? found : all;
};

/** Pace of a closed job; undefined where its reports say too little of it. */
export const pastPaceOf = (view: JobView, settings: Settings): PastPace | undefined => {
  const run = jobRun(view);
  const calendar = workshopHours(settings);
  return calendar && view.status === 'closed'
    ? pastPace(run, workClock(calendar, run.start))
    : undefined;
};

type Prepared = {
  readonly view: JobView;
  readonly run: JobRun;
  readonly soFar: SoFar | null;
  readonly pace: PaceBelief;
  readonly people: readonly string[];
  readonly expected: Expected;
};

const prepare = (view: JobView, ground: ForecastGround): Prepared => {
  const { settings, now, past } = ground;
  const at = Date.parse(now);
  const calendar = workshopHours(settings);
  const people = peopleOn(view, ground);
  const seen = jobRun(view);
  const clock = calendar && workClock(calendar, seen.start);
  const soFar = clock ? paceSoFar(seen, clock) : null;
  const pace = paceBelief(soFar, past.get(view.plan.plan) ?? []);
  const run = { ...seen, whole: { ...seen.whole, people } };
  const ahead = aheadAt(run, at);
  const inHand = clock ? spentSince(view, clock, at) : new Map<string, number>();
  const steps = ahead.steps.map((step) => ({
    ...step,
    spent: Math.max(step.spent, inHand.get(step.id) ?? 0),
  }));
  const due = view.promised === undefined ? {} : { due: Date.parse(view.promised) };
  return { view, run, soFar, pace, people, expected: { ...ahead, steps, pace, ...due } };
};

/**
 * Minutes that went into what is in hand: since a start that was said, else since the last report into the step that
 * is free next, unless the job stands still.
 */
const spentSince = (view: JobView, clock: WorkClock, now: number): ReadonlyMap<string, number> => {
  const started = view.steps.filter(({ state, at }) => state === 'started' && at !== null);
  if (started.length > 0)
    return new Map(
      started.map(({ step, position, at }) => [
        `${step}|${position ?? ''}`,
        clock.between(Date.parse(at ?? ''), now),
      ]),
    );
  const last = Math.max(...view.reports.map(({ when }) => Date.parse(when)));
  const [next] = view.next;
  if (!next || view.blocked.length > 0 || !Number.isFinite(last)) return new Map();
  const time = view.plan.stepById.get(next.step)?.time;
  const mean = time ? meanOf({ o: time.best, m: time.likely, p: time.worst }) : 0;
  // No more than the step's usual time: beyond it the hands may be elsewhere.
  const spent = Math.min(clock.between(last, now), mean);
  return new Map([[`${next.step}|${next.position ?? ''}`, spent]]);
};

const upToQuarter = (instant: number): string | null =>
  Number.isFinite(instant) ? new Date(Math.ceil(instant / QUARTER) * QUARTER).toISOString() : null;

const told = (
  { view, soFar, pace, people, expected }: Prepared,
  finish: JobFinish | undefined,
): JobForecast => ({
  job: view.job,
  likely: upToQuarter(finish?.likely ?? Number.NaN),
  cautious: upToQuarter(finish?.cautious ?? Number.NaN),
  late: finish?.late ?? null,
  drivers: finish?.drivers ?? [],
  people,
  soFar,
  pace,
  left: expected.steps.filter(({ time }) => time.p > 0).length,
});

const simulated = (prepared: readonly Prepared[], ground: ForecastGround, seed: string) => {
  const at = Date.parse(ground.now);
  const names = [...new Set(prepared.flatMap(({ people }) => people))];
  const clocks = new Map(
    names.flatMap((name) => {
      const hours = hoursOf(ground.settings, name);
      return hours ? [[name, workClock(hours, at)] as const] : [];
    }),
  );
  const steps = prepared.reduce((sum, { expected }) => sum + expected.steps.length, 0);
  const runs = Math.max(LEAST_RUNS, Math.min(RUNS, Math.floor(MOST_DRAWS / Math.max(1, steps))));
  return simulateFinish(
    prepared.map(({ expected }) => expected),
    clocks,
    at,
    { seed: seedOf(seed), runs },
  );
};

/** One job by itself, its people staying on it. The same events at the same moment give the same forecast. */
export const forecastJob = (view: JobView, ground: ForecastGround): JobForecast => {
  const prepared = prepare(view, ground);
  return told(prepared, simulated([prepared], ground, view.job)[0]);
};

/** All open jobs with the people there are: nobody works on two at once, and the more urgent job goes first. */
export const forecastWorkshop = (
  views: readonly JobView[],
  ground: ForecastGround,
): ReadonlyMap<string, JobForecast> => {
  const open = byUrgency(
    views.filter(({ status }) => status === 'open'),
    ground.now,
  ).map((view) => prepare(view, ground));
  const ends = simulated(open, ground, 'workshop');
  return new Map(open.map((each, index) => [each.view.job, told(each, ends[index])]));
};
