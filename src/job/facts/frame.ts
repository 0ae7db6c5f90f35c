import type { JobEventOf } from '../../../shared/event.ts';
import type { Step } from '../../../shared/plan.ts';
import type { Plan } from '../plan.ts';
import type { TimedEvent } from './canonical.ts';

/** What the job covers: its positions by set and its options, each with the time since when. */
export type Frame = {
  readonly plan: Plan;
  /** In the order of the plan; -Infinity where the job had it from the start. */
  readonly positions: ReadonlyMap<string, ReadonlyMap<string, number>>;
  readonly options: ReadonlyMap<string, number>;
};

/**
 * A set of which the job names no position has all of them: nobody names ten studs. What an approved finding adds
 * joins from the moment it was approved, so that work reported earlier is not measured against it.
 */
export function frameOf(
  plan: Plan,
  opened: JobEventOf<'job-opened'>,
  events: readonly TimedEvent[],
): Frame {
  const since = new Map<string, number>(opened.positions.map((name) => [name, -Infinity]));
  const options = new Map<string, number>(opened.options.map((name) => [name, -Infinity]));
  const named = new Set(opened.positions.map((name) => plan.setOf.get(name)));
  for (const { event, at } of events) {
    if (event.kind !== 'finding-settled' || event.settled !== 'approved') continue;
    for (const name of event.positions) if (!since.has(name)) since.set(name, at);
    for (const name of event.options) if (!options.has(name)) options.set(name, at);
  }
  const positions = new Map<string, ReadonlyMap<string, number>>();
  for (const [set, { names }] of Object.entries(plan.positions ?? {})) {
    const on = names.flatMap((name): [string, number][] => {
      const joined = named.has(set) ? since.get(name) : -Infinity;
      return joined === undefined ? [] : [[name, joined]];
    });
    positions.set(set, new Map(on));
  }
  return { plan, positions, options };
}

/** The positions of the job a step runs over; undefined where it is once for the job. */
export function positionsOf(frame: Frame, step: Step): ReadonlyMap<string, number> | undefined {
  return step.each === undefined ? undefined : (frame.positions.get(step.each) ?? new Map());
}

/** Since when a step is on the job; undefined while its option is not. */
export function stepSince(frame: Frame, step: Step): number | undefined {
  return step.option === undefined ? -Infinity : frame.options.get(step.option);
}

/** Whether a position, as an act spells it, is one of the job. */
export function isOnJob(frame: Frame, position: string): boolean {
  const set = frame.plan.setOf.get(position);
  return set !== undefined && frame.positions.get(set)?.has(position) === true;
}
