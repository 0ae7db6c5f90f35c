// How often the forecast holds on jobs of another workshop than it believes in; see other-workshop.ts.

import { seedOf } from '../../src/trade/forecast/chance.ts';
import {
  aheadAt,
  type JobRun,
  type PastPace,
  paceSoFar,
  pastPace,
} from '../../src/trade/forecast/pace.ts';
import { paceBelief } from '../../src/trade/forecast/pace-belief.ts';
import { simulateFinish } from '../../src/trade/forecast/simulate-finish.ts';
import { type WorkClock, workClock } from '../../src/trade/forecast/work-clock.ts';
import { workCalendar } from '../../src/trade/work-calendar.ts';
import { diceOf, type OtherJob, type OtherPlan, otherPlan, workThrough } from './other-workshop.ts';

const MINUTE = 60_000;
/** Monday 1 June 2026, midnight UTC. */
const MONDAY = Date.UTC(2026, 5, 1);
const WHO = 'technician';

const day = { name: 'day', from: '07:00', to: '15:30', breaks: [{ from: '12:00', to: '12:30' }] };
const made = workCalendar({
  zone: 'UTC',
  week: { mon: [day], tue: [day], wed: [day], thu: [day], fri: [day] },
});
if (!made.ok) throw new Error(made.problem.what);
const calendar = made.value;

/** How far the job is when it is forecast, and what is known by then. */
export const MOMENTS = [
  { name: 'when it is begun, with past jobs', share: 0, past: true },
  { name: 'a third through, with past jobs', share: 1 / 3, past: true },
  { name: 'two thirds through, with past jobs', share: 2 / 3, past: true },
  { name: 'when it is begun, no past job', share: 0, past: false },
  { name: 'two thirds through, no past job', share: 2 / 3, past: false },
] as const;

export type Calibration = {
  readonly name: string;
  readonly past: boolean;
  readonly cases: number;
  /** Shares of the cases that were ready by the likely and by the cautious figure. */
  readonly likely: number;
  readonly cautious: number;
  /** Median working minutes from the forecast to the cautious figure, and to the real end. */
  readonly toCautious: number;
  readonly toEnd: number;
};

const instant = (minute: number): number => MONDAY + minute * MINUTE;

const runOf = (name: string, plan: OtherPlan, job: OtherJob): JobRun => ({
  whole: {
    job: name,
    people: [WHO],
    steps: plan.steps.map(({ id, o, m, p, handsOff, after }) => ({
      id,
      kind: id,
      time: { o, m, p },
      handsOff,
      after,
      waits: [],
      spent: 0,
    })),
  },
  start: instant(job.start),
  doneAt: new Map([...job.doneAt].map(([id, at]) => [id, instant(at)])),
});

/** The job as it stands once a share of its steps is done: a forecast is asked for at a report. */
const stopped = (run: JobRun, share: number): { readonly run: JobRun; readonly now: number } => {
  const times = [...run.doneAt.values()].sort((a, b) => a - b);
  const now = share === 0 ? run.start : (times[Math.floor(share * times.length) - 1] ?? run.start);
  return { now, run: { ...run, doneAt: new Map([...run.doneAt].filter(([, at]) => at <= now)) } };
};

/** Past jobs on the same plan that are known. */
const PAST = 12;
const JOBS_OF_A_PLAN = 25;

export const calibrate = (
  cases: number,
  { seed = 1042, runs = 400 }: { readonly seed?: number; readonly runs?: number } = {},
): readonly Calibration[] => {
  const dice = diceOf(seed);
  const held = MOMENTS.map(() => ({
    likely: 0,
    cautious: 0,
    to: [] as number[],
    end: [] as number[],
  }));
  let plan = otherPlan(dice);
  let past: PastPace[] = [];
  for (let n = 0; n < cases; n += 1) {
    if (n % JOBS_OF_A_PLAN === 0) {
      plan = otherPlan(dice);
      past = Array.from({ length: PAST }, (_, k) => pastOf(jobOf(`p${k}`, plan, dice))).flat();
    }
    const run = jobOf(`j${n}`, plan, dice);
    const end = Math.max(...run.doneAt.values());
    for (const [at, moment] of MOMENTS.entries()) {
      const { now, run: sofar } = stopped(run, moment.share);
      const clock = clockOf(now);
      const pace = paceBelief(
        moment.share === 0 ? null : paceSoFar(sofar, clockOf(sofar.start)),
        moment.past ? past : [],
      );
      const [finish] = simulateFinish(
        [{ ...aheadAt(sofar, now), pace }],
        new Map([[WHO, clock]]),
        now,
        { seed: seedOf(`${seed}|${n}|${at}`), runs },
      );
      const own = held[at];
      if (!finish || !own) continue;
      if (end <= finish.likely) own.likely += 1;
      if (end <= finish.cautious) own.cautious += 1;
      own.to.push(clock.between(now, finish.cautious));
      own.end.push(clock.between(now, end));
    }
    past = [...past.slice(1), ...pastOf(run)];
  }
  return MOMENTS.map(({ name, past: known }, at) => ({
    name,
    past: known,
    cases,
    likely: (held[at]?.likely ?? 0) / cases,
    cautious: (held[at]?.cautious ?? 0) / cases,
    toCautious: median(held[at]?.to ?? []),
    toEnd: median(held[at]?.end ?? []),
  }));
};

const jobOf = (name: string, plan: OtherPlan, dice: () => number): JobRun =>
  runOf(
    name,
    plan,
    workThrough(plan, 420 + Math.floor(dice() * 5) * 1440 + Math.floor(dice() * 400), dice),
  );

const pastOf = (run: JobRun): PastPace[] => {
  const made = pastPace(run, clockOf(run.start));
  return made ? [made] : [];
};

const clockOf = (from: number): WorkClock => workClock(calendar, from);

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
