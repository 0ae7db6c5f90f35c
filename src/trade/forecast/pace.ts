/**
 * Pace: the factor on the plan's hands-on times with which the work would have taken as long as it did. 1 is the plan's
 * own pace, 2 twice as slow. Hands-off time is not slower on a slow job, so it is left as planned.
 */
import { finishes, layOut, layoutOf } from './lay-out.ts';
import { handsOnMean, type JobAhead, meanOf } from './work-ahead.ts';
import type { WorkClock } from './work-clock.ts';

/** A job as far as it went: when each of its steps was done. Instants are ms since 1970 UTC. */
export type JobRun = {
  /** Every step of the job, done or not. */
  readonly whole: JobAhead;
  /** When hands were first laid on it. */
  readonly start: number;
  readonly doneAt: ReadonlyMap<string, number>;
};

/** Slower or faster than this a job was not worked on as planned at all. */
const SLOWEST = 12;
const FASTEST = 1 / 12;

/** The steps of a job that are ahead at an instant; what was done before is waited for by its time. */
export function aheadAt({ whole, doneAt }: JobRun, instant: number): JobAhead {
  const isDone = (id: string): boolean => (doneAt.get(id) ?? Number.POSITIVE_INFINITY) <= instant;
  return {
    ...whole,
    steps: whole.steps
      .filter(({ id }) => !isDone(id))
      .map((step) => ({
        ...step,
        after: step.after.filter((id) => !isDone(id)),
        waits: step.waits.map((wait) =>
          typeof wait.after === 'string' && isDone(wait.after)
            ? { ...wait, after: doneAt.get(wait.after) ?? instant }
            : wait,
        ),
      })),
  };
}

/** The part of a job that was done by an instant. */
const doneBy = ({ whole, doneAt }: JobRun, instant: number): JobAhead => {
  const done = whole.steps.filter(
    ({ id }) => (doneAt.get(id) ?? Number.POSITIVE_INFINITY) <= instant,
  );
  const ids = new Set(done.map(({ id }) => id));
  return {
    ...whole,
    steps: done.map((step) => ({
      ...step,
      after: step.after.filter((id) => ids.has(id)),
      waits: step.waits.filter(({ after }) => typeof after === 'number' || ids.has(after)),
    })),
  };
};

/**
 * The pace with which work begun at one instant is done at another, found by halving; the plan is laid out with its
 * mean times. 1 where there is nothing to do; bounded by twelve times slower or faster.
 */
export function paceThatFits(job: JobAhead, clock: WorkClock, start: number, end: number): number {
  if (handsOnMean(job.steps) <= 0) return 1;
  const layout = layoutOf([job], new Map(job.people.map((name) => [name, clock])), start);
  const means = job.steps.map(({ time }) => meanOf(time));
  const takes = (pace: number): number =>
    finishes(
      layout,
      layOut(
        layout,
        start,
        means.map((mean) => mean * pace),
      ),
    )[0]?.at ?? Number.NaN;
  let low = Math.log(FASTEST);
  let high = Math.log(SLOWEST);
  while (high - low > 0.002) {
    const middle = (low + high) / 2;
    if (takes(Math.exp(middle)) < end) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}

/** Shares of the hands-on work at which a past job is looked at. */
export const CUTS = [0, 0.2, 0.4, 0.6, 0.8] as const;

/** What a past job tells: at each cut the logarithm of the pace up to there (null before the first report) and of the rest. */
export type PastPace = {
  readonly job: string;
  readonly cuts: readonly {
    readonly share: number;
    readonly soFar: number | null;
    readonly rest: number;
  }[];
};

/** Undefined for a job of which fewer than three steps with a time were reported, or all at one moment. */
export function pastPace(run: JobRun, clock: WorkClock): PastPace | undefined {
  const done = run.whole.steps
    .flatMap((step) => {
      const at = run.doneAt.get(step.id);
      return at === undefined ? [] : [{ at, mean: meanOf(step.time) }];
    })
    .sort((a, b) => a.at - b.at);
  const end = done.at(-1)?.at;
  const total = done.reduce((sum, { mean }) => sum + mean, 0);
  if (done.length < 3 || end === undefined || total <= 0) return undefined;
  if (clock.between(run.start, end) <= 0) return undefined;
  const cuts = CUTS.flatMap((share): PastPace['cuts'] => {
    if (share === 0)
      return [
        {
          share,
          soFar: null,
          rest: Math.log(paceThatFits(doneBy(run, end), clock, run.start, end)),
        },
      ];
    let sum = 0;
    const at = done.find(({ mean }) => {
      sum += mean;
      return sum >= share * total;
    })?.at;
    if (at === undefined || at >= end) return [];
    const left = aheadAt({ ...run, whole: doneBy(run, end) }, at);
    return [
      {
        share,
        soFar: Math.log(paceThatFits(doneBy(run, at), clock, run.start, at)),
        rest: Math.log(paceThatFits(left, clock, at, end)),
      },
    ];
  });
  return { job: run.whole.job, cuts };
}

/** How far a job is and at what pace; null before anything with a time is done. */
export function paceSoFar(
  run: JobRun,
  clock: WorkClock,
): { readonly share: number; readonly log: number; readonly minutes: number } | null {
  const last = Math.max(...run.doneAt.values());
  if (!Number.isFinite(last) || clock.between(run.start, last) <= 0) return null;
  const done = doneBy(run, last);
  const minutes = handsOnMean(done.steps);
  const total = handsOnMean(run.whole.steps);
  if (minutes <= 0 || total <= 0) return null;
  return {
    share: minutes / total,
    log: Math.log(paceThatFits(done, clock, run.start, last)),
    minutes,
  };
}
