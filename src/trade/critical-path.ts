/**
 * The critical path through the steps of a job: when each can start and finish at the earliest and at the latest, and
 * how much slack it has.
 *
 * Early start = latest early finish of the steps before; late finish = earliest late start of the steps after; slack =
 * late start - early start; critical = no slack. The variance of the whole is taken along one critical path (the one
 * with the largest, where there are several).
 * Source: Kelley, Operations Research 9 (1961) 296 for the method (from memory).
 */
import { found, type Result, refused } from './result.ts';
import { type ThreePoint, threePoint } from './three-point.ts';
import { formatFigure } from './units.ts';

export type Activity = {
  readonly id: string;
  /** Three points, or a variance-free time where only one figure is known; one unit throughout, here minutes. */
  readonly time: ThreePoint | number;
  /** The ids that must be finished first. */
  readonly after: readonly string[];
};

export type Scheduled = {
  readonly expected: number;
  readonly variance: number;
  readonly earlyStart: number;
  readonly earlyFinish: number;
  readonly lateStart: number;
  readonly lateFinish: number;
  readonly slack: number;
};

export type CriticalPath = {
  readonly activities: ReadonlyMap<string, Scheduled>;
  /** Every activity without slack, in the order given. */
  readonly critical: readonly string[];
  /** One chain from a start to the end, the one with the largest variance. */
  readonly path: readonly string[];
  /** Expected time of the whole. */
  readonly expected: number;
  /** Variance along `path`. */
  readonly variance: number;
  readonly answer: string;
};

/** Two times closer than this are the same: what is left over is the dust of dividing by six. */
const DUST = 1e-9;

/**
 * Schedules the activities with as many hands as the order allows.
 *
 * Errors: none; an id twice; an unknown one before; a circle, named; a time that is not one (see {@link threePoint}).
 */
export function criticalPath(given: readonly Activity[]): Result<CriticalPath> {
  if (given.length === 0) {
    return refused('There is nothing to schedule.', 'Give at least one step with its time.');
  }
  const byId = new Map(given.map((activity) => [activity.id, activity]));
  if (byId.size !== given.length) {
    const twice = given.find(
      (activity, index) => given.findIndex((a) => a.id === activity.id) !== index,
    );
    return refused(`"${twice?.id}" is there twice.`, 'Give each step a name of its own.');
  }
  const estimates = new Map<string, { expected: number; variance: number }>();
  for (const { id, time, after } of given) {
    const stranger = after.find((before) => !byId.has(before));
    if (stranger !== undefined) {
      return refused(`"${id}" comes after "${stranger}", which is not there.`, 'Correct the name.');
    }
    const points = typeof time === 'number' ? { o: time, m: time, p: time } : time;
    const estimate = threePoint(points);
    if (!estimate.ok) {
      return refused(`"${id}": ${estimate.problem.what}`, estimate.problem.doThis);
    }
    estimates.set(id, estimate.value);
  }
  const sorted = inOrder(given);
  if (!sorted.ok) return sorted;
  return found(schedule(given, sorted.value, estimates));
}

/** The activities so that each stands behind all it comes after, or the circle that prevents it. */
function inOrder(given: readonly Activity[]): Result<readonly Activity[]> {
  const placed = new Set<string>();
  const order: Activity[] = [];
  let left = given;
  while (left.length > 0) {
    const ready = left.filter(({ after }) => after.every((id) => placed.has(id)));
    if (ready.length === 0) {
      const circle = nameCircle(left);
      return refused(
        `The steps go round in a circle: ${circle.join(' after ')}.`,
        'Take one of these ties out of the plan.',
      );
    }
    for (const activity of ready) placed.add(activity.id);
    order.push(...ready);
    left = left.filter(({ id }) => !placed.has(id));
  }
  return found(order);
}

function nameCircle(left: readonly Activity[]): readonly string[] {
  const byId = new Map(left.map((activity) => [activity.id, activity]));
  const walked: string[] = [];
  let id = left[0]?.id ?? '';
  while (!walked.includes(id)) {
    walked.push(id);
    id = byId.get(id)?.after.find((before) => byId.has(before)) ?? '';
  }
  return [...walked.slice(walked.indexOf(id)), id];
}

function schedule(
  given: readonly Activity[],
  order: readonly Activity[],
  estimates: ReadonlyMap<string, { expected: number; variance: number }>,
): CriticalPath {
  const finish = new Map<string, number>();
  for (const { id, after } of order) {
    const start = Math.max(0, ...after.map((before) => finish.get(before) ?? 0));
    finish.set(id, start + (estimates.get(id)?.expected ?? 0));
  }
  const expected = Math.max(...finish.values());
  const lateFinish = new Map(given.map(({ id }) => [id, expected]));
  for (const { id, after } of order.toReversed()) {
    const lateStart = (lateFinish.get(id) ?? 0) - (estimates.get(id)?.expected ?? 0);
    for (const before of after) {
      lateFinish.set(before, Math.min(lateFinish.get(before) ?? expected, lateStart));
    }
  }
  const activities = new Map<string, Scheduled>();
  for (const { id } of given) {
    const { expected: time, variance } = estimates.get(id) ?? { expected: 0, variance: 0 };
    const earlyFinish = finish.get(id) ?? 0;
    const late = lateFinish.get(id) ?? 0;
    const slack = Math.abs(late - earlyFinish) < DUST ? 0 : late - earlyFinish;
    activities.set(id, {
      expected: time,
      variance,
      earlyStart: earlyFinish - time,
      earlyFinish,
      lateStart: late - time,
      lateFinish: late,
      slack,
    });
  }
  const critical = given.map(({ id }) => id).filter((id) => activities.get(id)?.slack === 0);
  const { path, variance } = widestPath(order, activities, expected);
  return {
    activities,
    critical,
    path,
    expected,
    variance,
    answer: `${formatFigure(expected)} min by the longest chain ${path.join(', ')}; give or take ${formatFigure(Math.sqrt(variance), 2)} min. As many hands as the order allows; waiting for parts is not in it.`,
  };
}

type Chain = { readonly path: readonly string[]; readonly variance: number };

/** Among the chains without slack that reach the end, the one whose variances add up to most. */
function widestPath(
  order: readonly Activity[],
  activities: ReadonlyMap<string, Scheduled>,
  expected: number,
): Chain {
  const best = new Map<string, Chain>();
  for (const { id, after } of order) {
    const own = activities.get(id);
    if (own?.slack !== 0) continue;
    const ties = after.flatMap((before) => {
      const touching =
        Math.abs((activities.get(before)?.earlyFinish ?? -1) - own.earlyStart) < DUST;
      const chain = best.get(before);
      return touching && chain ? [chain] : [];
    });
    const widest = widestOf(ties);
    best.set(id, { path: [...widest.path, id], variance: widest.variance + own.variance });
  }
  const ends = [...best].filter(
    ([id]) => Math.abs((activities.get(id)?.earlyFinish ?? -1) - expected) < DUST,
  );
  return widestOf(ends.map(([, chain]) => chain));
}

function widestOf(chains: readonly Chain[]): Chain {
  const [first = { path: [], variance: 0 }, ...others] = chains;
  return others.reduce((a, b) => (b.variance > a.variance ? b : a), first);
}
