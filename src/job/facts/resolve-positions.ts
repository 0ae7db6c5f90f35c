import type { Step } from '../../../shared/plan.ts';
import type { Act } from '../../../shared/reading.ts';
import type { Graph } from '../state/graph.ts';
import { type Frame, isOnJob, positionsOf } from './frame.ts';

export type Resolved = {
  readonly nodes: readonly number[];
  /** As the report should show them: those of the step, in the plan's order. */
  readonly positions: readonly string[];
  /** Positions named that are not on this job. */
  readonly foreign: readonly string[];
  /** The position was left out and there are several: nothing is recorded until it is known. */
  readonly unsettled: boolean;
};

/** The nodes an act is about. A position left out means the job's only one; a count of all of them means all. */
export function resolvePositions(frame: Frame, graph: Graph, step: Step, act: Act): Resolved {
  const foreign = act.positions.filter((name) => !isOnJob(frame, name));
  const over = positionsOf(frame, step);
  if (over === undefined) {
    return {
      nodes: graph.ofStep(step.id),
      positions: [...act.positions],
      foreign,
      unsettled: false,
    };
  }
  const all = [...over.keys()];
  const named = all.filter((name) => act.positions.includes(name));
  const meant = named.length > 0 ? named : foreign.length > 0 ? [] : unnamed(step, act, all);
  return {
    nodes: meant.flatMap((name) => graph.at(step.id, name) ?? []),
    positions: meant,
    foreign,
    unsettled: meant.length === 0 && foreign.length === 0 && all.length > 0,
  };
}

function unnamed(step: Step, act: Act, all: readonly string[]): readonly string[] {
  if (all.length === 1) return all;
  const { count } = act;
  if (count === undefined || countsParts(step, count.of ?? count.done)) return [];
  const everyOne = count.done === all.length && (count.of ?? count.done) === all.length;
  return everyOne ? all : [];
}

/** Whether a count is of the parts the step counts, rather than of its positions. */
function countsParts(step: Step, of: number): boolean {
  return (step.report ?? []).some(
    (ask) =>
      ((ask.kind === 'off' || ask.kind === 'on') && ask.count === of) ||
      ((ask.kind === 'tightening' || ask.kind === 'loosening') && ask.fasteners === of),
  );
}
