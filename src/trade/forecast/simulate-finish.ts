/**
 * When jobs will be ready: the work ahead laid out many times with drawn times, on the people there are.
 *
 * Each run draws one pace for each job (see pace-belief.ts) and each step's time from its three points (see chance.ts),
 * and lays all of it out (see lay-out.ts). Half of the runs are ready by the likely time, nine in ten by the cautious
 * one. A step drives the finish as often as it lies on the chain that ends last, its criticality index: Van Slyke, Oper.
 * Res. 11 (1963) 839 (from memory). Monte Carlo rather than the normal curve along one chain, since several chains of
 * nearly the same length end later than the longest of them does by itself.
 */
import { type Chance, chance, drawStudent, drawThreePoint } from './chance.ts';
import { finishes, type LaidOut, type Layout, layOut, layoutOf } from './lay-out.ts';
import type { PaceBelief } from './pace-belief.ts';
import { type JobAhead, meanOf, type WorkStep } from './work-ahead.ts';
import type { WorkClock } from './work-clock.ts';

export const LIKELY = 0.5;
export const CAUTIOUS = 0.9;

export type Expected = JobAhead & {
  readonly pace: PaceBelief;
  /** When it is promised, ms since 1970 UTC. */
  readonly due?: number;
};

/** What a kind of step adds to the chain that ends last, over all runs. */
export type Driver = {
  readonly job: string;
  readonly kind: string;
  /** Share of the runs in which it lies on that chain. */
  readonly often: number;
  /** Mean minutes of hands-on time it adds to it. */
  readonly handsOn: number;
  /** Mean real minutes of hands-off time and waiting it adds to it. */
  readonly waiting: number;
};

export type JobFinish = {
  readonly job: string;
  /** Instants, ms since 1970 UTC; NaN where the hours of the people end before. */
  readonly likely: number;
  readonly cautious: number;
  /** Share of the runs that end after it is due; null where it is due at no time. */
  readonly late: number | null;
  /** What drives it, the most first. */
  readonly drivers: readonly Driver[];
};

/** A step in hand has at least this share of its time to go, however long ago it was begun. */
const LEAST_LEFT = 0.1;
/** The spread of a job's pace never goes below this, whatever past jobs say; only none at all stays none. */
const LEAST_SPREAD = 0.05;

/** The spread left for the pace of the job as a whole, once the steps have theirs. */
export function spreadOfPace(steps: readonly WorkStep[], spread: number): number {
  if (spread === 0) return 0;
  const mean = steps.reduce((sum, { time }) => sum + meanOf(time), 0);
  const variance = steps.reduce((sum, { time }) => sum + ((time.p - time.o) / 6) ** 2, 0);
  const own = mean > 0 ? variance / mean ** 2 : 0;
  return Math.sqrt(Math.max(spread ** 2 - own, LEAST_SPREAD ** 2));
}

/**
 * @param jobs most urgent first: of steps that can start together the more urgent job's goes first
 * @param clocks the hours of each person that the jobs name
 * @param seed the same seed gives the same answer
 */
export function simulateFinish(
  jobs: readonly Expected[],
  clocks: ReadonlyMap<string, WorkClock>,
  start: number,
  { seed, runs }: { readonly seed: number; readonly runs: number },
): readonly JobFinish[] {
  const layout = layoutOf(jobs, clocks, start);
  const next = chance(seed);
  const spreads = jobs.map(({ steps, pace }) => ({
    slower: spreadOfPace(steps, pace.slower),
    faster: spreadOfPace(steps, pace.faster),
  }));
  const ends = jobs.map(() => new Float64Array(runs));
  const chains = jobs.map(() => new Map<string, Tally>());
  for (let run = 0; run < runs; run += 1) {
    const minutes = drawMinutes(jobs, spreads, next);
    const laid = layOut(layout, start, minutes);
    for (const [job, { at, last }] of finishes(layout, laid).entries()) {
      const own = ends[job];
      const tally = chains[job];
      if (!own || !tally) continue;
      own[run] = last < 0 ? start : at;
      followBack(layout, laid, minutes, last, tally, run);
    }
  }
  return jobs.map(({ job, due }, index) => ({
    job,
    late: due === undefined ? null : (ends[index]?.filter((at) => !(at <= due)).length ?? 0) / runs,
    likely: quantile(ends[index], LIKELY),
    cautious: quantile(ends[index], CAUTIOUS),
    drivers: driversOf(chains[index], runs),
  }));
}

function drawMinutes(
  jobs: readonly Expected[],
  spreads: readonly { readonly slower: number; readonly faster: number }[],
  next: Chance,
): Float64Array {
  const count = jobs.reduce((sum, { steps }) => sum + steps.length, 0);
  const minutes = new Float64Array(count);
  let at = 0;
  for (const [job, { steps, pace }] of jobs.entries()) {
    const off = drawStudent(next, pace.freedom);
    const spread = spreads[job]?.[off > 0 ? 'slower' : 'faster'] ?? 0;
    const drawn = pace.middle + spread * off;
    const factor = Math.exp(Math.min(2.5, Math.max(-2.5, drawn)));
    for (const { time, spent } of steps) {
      const whole = drawThreePoint(next, time) * factor;
      minutes[at] = spent > 0 ? Math.max(whole - spent, whole * LEAST_LEFT) : whole;
      at += 1;
    }
  }
  return minutes;
}

type Tally = {
  readonly job: string;
  readonly kind: string;
  runs: number;
  lastRun: number;
  handsOn: number;
  waiting: number;
};

/** Walks from the step that ends last back to the start, along what let each step begin. */
function followBack(
  { jobs, steps }: Layout,
  laid: LaidOut,
  minutes: Float64Array,
  last: number,
  tally: Map<string, Tally>,
  run: number,
): void {
  const flat = namesOf(jobs);
  let at = last;
  let untilDone = true;
  while (at >= 0) {
    const step = steps[at];
    const named = flat[at];
    if (!step || !named) return;
    let own = tally.get(named.key);
    if (!own) {
      own = { job: named.job, kind: named.kind, runs: 0, lastRun: -1, handsOn: 0, waiting: 0 };
      tally.set(named.key, own);
    }
    if (own.lastRun !== run) own.runs += 1;
    own.lastRun = run;
    own.handsOn += minutes[at] ?? 0;
    if (untilDone) own.waiting += step.handsOff / 60_000;
    const before = laid.bound[at] ?? -1;
    const waited = step.waits.find(({ after }) => after === before)?.ms ?? 0;
    // Bound by the order, its predecessor's hands-off time is on the chain; bound by the hands, it is not.
    untilDone = step.before.includes(before);
    if (untilDone) own.waiting += waited / 60_000;
    at = before;
  }
}

type Named = { readonly job: string; readonly kind: string; readonly key: string };

const names = new WeakMap<readonly JobAhead[], readonly Named[]>();

/** Job and kind of each step in the order of the layout, made once for all runs. */
const namesOf = (jobs: readonly JobAhead[]): readonly Named[] => {
  const known = names.get(jobs);
  if (known) return known;
  const made = jobs.flatMap(({ job, steps }) =>
    steps.map(({ kind }) => ({ job, kind, key: `${job}|${kind}` })),
  );
  names.set(jobs, made);
  return made;
};

const driversOf = (tally: Map<string, Tally> | undefined, runs: number): readonly Driver[] =>
  [...(tally?.values() ?? [])]
    .map(({ job, kind, runs: often, handsOn, waiting }) => ({
      job,
      kind,
      often: often / runs,
      handsOn: handsOn / runs,
      waiting: waiting / runs,
    }))
    .sort((a, b) => b.handsOn + b.waiting - a.handsOn - a.waiting);

/** The value that a share of the runs does not pass; NaN where that run never ends. */
export function quantile(values: Float64Array | undefined, share: number): number {
  // NaN sorts last in a Float64Array.
  const sorted = (values ?? new Float64Array()).slice().sort();
  return sorted[Math.min(sorted.length, Math.ceil(share * sorted.length)) - 1] ?? Number.NaN;
}
