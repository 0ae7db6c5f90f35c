/**
 * Lays work out on people and their hours, one step after another: whoever is free first takes the step that can start
 * first; of those that can start together the one of the job named first, then in the order of the plan. Nobody leaves
 * a step half done but for breaks and the end of a shift. A schedule of this kind is called a non-delay one, made by
 * the parallel scheme: Kolisch, Eur. J. Oper. Res. 90 (1996) 320 (from memory).
 */
import type { JobAhead } from './work-ahead.ts';
import type { WorkClock } from './work-clock.ts';

const MINUTE = 60_000;

/** The work of all jobs as numbers, made once and laid out many times. */
export type Layout = {
  readonly jobs: readonly JobAhead[];
  readonly steps: readonly LaidStep[];
  readonly clocks: readonly WorkClock[];
};

type LaidStep = {
  readonly job: number;
  readonly before: readonly number[];
  readonly behind: readonly number[];
  /** Real ms after another step's end. */
  readonly waits: readonly { readonly after: number; readonly ms: number }[];
  /** It cannot start before. */
  readonly from: number;
  readonly handsOff: number;
  readonly people: readonly number[];
};

/**
 * @param clocks the hours of each person a job names
 * @throws never; a step before that is not ahead is taken as done
 */
export function layoutOf(
  jobs: readonly JobAhead[],
  clocks: ReadonlyMap<string, WorkClock>,
  start: number,
): Layout {
  const names = [...clocks.keys()];
  const index = new Map<string, number>();
  const key = (job: number, id: string): string => `${job}|${id}`;
  let count = 0;
  for (const [job, { steps }] of jobs.entries())
    for (const { id } of steps) index.set(key(job, id), count++);
  const behind: number[][] = Array.from({ length: count }, () => []);
  const laid: LaidStep[] = [];
  for (const [job, { steps, people }] of jobs.entries()) {
    const own = people.map((name) => names.indexOf(name)).filter((at) => at >= 0);
    for (const step of steps) {
      const at = (id: string): number | undefined => index.get(key(job, id));
      const waits: { after: number; ms: number }[] = [];
      let from = start;
      for (const { after, minutes } of step.waits) {
        if (typeof after === 'number') from = Math.max(from, after + minutes * MINUTE);
        else {
          const other = at(after);
          if (other !== undefined) waits.push({ after: other, ms: minutes * MINUTE });
        }
      }
      const before = [
        ...new Set([
          ...step.after.flatMap((id) => at(id) ?? []),
          ...waits.map(({ after }) => after),
        ]),
      ];
      for (const other of before) behind[other]?.push(laid.length);
      laid.push({
        job,
        before,
        behind: behind[laid.length] ?? [],
        waits,
        from,
        handsOff: step.handsOff * MINUTE,
        people: own,
      });
    }
  }
  return { jobs, steps: laid, clocks: [...clocks.values()] };
}

export type LaidOut = {
  /** When each step is done, its hands-off time over. */
  readonly done: Float64Array;
  /** When hands are laid on it. */
  readonly begun: Float64Array;
  /** The step whose end let it begin, of the order or of the same hands; -1 for the start. */
  readonly bound: Int32Array;
};

/** @param minutes hands-on minutes of each step, in the order of the layout */
export function layOut(
  { steps, clocks }: Layout,
  start: number,
  minutes: ArrayLike<number>,
): LaidOut {
  const count = steps.length;
  const done = new Float64Array(count).fill(Number.NaN);
  const begun = new Float64Array(count).fill(Number.NaN);
  const bound = new Int32Array(count).fill(-1);
  const open = Int32Array.from(steps, ({ before }) => before.length);
  const ready = new Float64Array(count);
  const binding = new Int32Array(count).fill(-1);
  const free = clocks.map((clock) => clock.next(start));
  const last = new Int32Array(clocks.length).fill(-1);
  const able: number[] = [];
  for (const [at, step] of steps.entries()) {
    ready[at] = step.from;
    if (step.before.length === 0) able.push(at);
  }
  while (able.length > 0) {
    let best = -1;
    let bestAt = Number.POSITIVE_INFINITY;
    let bestStep = Number.POSITIVE_INFINITY;
    let bestWho = -1;
    for (let place = 0; place < able.length; place += 1) {
      const at = able[place] ?? 0;
      const earliest = ready[at] ?? start;
      // Nothing that is ready later than the best can begin before it.
      if (earliest > bestAt) continue;
      for (const person of steps[at]?.people ?? []) {
        const own = free[person] ?? start;
        const begins = own >= earliest ? own : (clocks[person]?.next(earliest) ?? earliest);
        if (begins > bestAt || (begins === bestAt && at >= bestStep)) continue;
        best = place;
        bestAt = begins;
        bestStep = at;
        bestWho = person;
      }
    }
    const at = bestStep;
    const step = steps[at];
    if (best < 0 || !step) break;
    able[best] = able[able.length - 1] ?? at;
    able.pop();
    const ends = clocks[bestWho]?.after(bestAt, minutes[at] ?? 0) ?? Number.NaN;
    // The hands bind only where they came free later than the order would have allowed.
    bound[at] =
      (free[bestWho] ?? 0) > (ready[at] ?? 0) && (last[bestWho] ?? -1) >= 0
        ? (last[bestWho] ?? -1)
        : (binding[at] ?? -1);
    begun[at] = bestAt;
    done[at] = ends + step.handsOff;
    free[bestWho] = clocks[bestWho]?.next(ends) ?? ends;
    last[bestWho] = at;
    for (const next of step.behind) {
      const wait = steps[next]?.waits.find(({ after }) => after === at)?.ms ?? 0;
      const from = (done[at] ?? 0) + wait;
      if (from > (ready[next] ?? 0)) {
        ready[next] = from;
        binding[next] = at;
      }
      open[next] = (open[next] ?? 1) - 1;
      if (open[next] === 0) able.push(next);
    }
  }
  return { done, begun, bound };
}

/** When the last step of each job is done, and which step that is; NaN where it never is. */
export function finishes(
  { jobs, steps }: Layout,
  { done }: LaidOut,
): readonly { readonly at: number; readonly last: number }[] {
  const found = jobs.map(() => ({ at: Number.NEGATIVE_INFINITY, last: -1 }));
  for (const [index, { job }] of steps.entries()) {
    const own = found[job];
    const at = done[index] ?? Number.NaN;
    if (own && (Number.isNaN(at) || at > own.at)) {
      own.at = at;
      own.last = index;
    }
  }
  return found;
}
