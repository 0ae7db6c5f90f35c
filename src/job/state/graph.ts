import { type Frame, positionsOf, stepSince } from '../facts/frame.ts';
import type { Plan } from '../plan.ts';
import { stepsBefore } from '../plan-file/step-order.ts';

/** A step at one position, or once for the job. */
export type StepNode = {
  readonly id: number;
  readonly step: string;
  readonly position: string | null;
  /** False while the step's option is not on the job: it is then passed through, never waited for. */
  readonly onJob: boolean;
  /** Milliseconds; work reported before this is not measured against the step. */
  readonly since: number;
};

/**
 * The order of the plan between steps at positions: two steps that run over the same positions are tied at each
 * position by itself, otherwise all positions of the one come before every position of the other.
 */
export type Graph = {
  readonly nodes: readonly StepNode[];
  readonly ofStep: (step: string) => readonly number[];
  readonly at: (step: string, position: string | null) => number | undefined;
  readonly direct: (node: number) => readonly number[];
  /** Every node before this one through the whole order, those not on the job left out. */
  readonly ancestors: (node: number) => readonly number[];
  /** Every node that rests on this one, those not on the job left out. */
  readonly dependents: (node: number) => readonly number[];
  /** The nodes of another step that belong to this node: at its position, or all. */
  readonly beside: (node: number, step: string) => readonly number[];
};

export function graphOf(frame: Frame): Graph {
  const { plan, positions, options } = frame;
  const covers = JSON.stringify([
    [...positions].map(([set, names]) => [set, [...names]]),
    [...options],
  ]);
  const known = graphs.get(plan);
  if (known?.covers === covers) return known.graph;
  const graph = buildGraph(frame);
  graphs.set(plan, { covers, graph });
  return graph;
}

/** The last graph of each plan: a job is checked again with every message, and what it covers hardly ever changes. */
const graphs = new WeakMap<Plan, { readonly covers: string; readonly graph: Graph }>();

function buildGraph(frame: Frame): Graph {
  const nodes: StepNode[] = [];
  const byStep = new Map<string, number[]>();
  const places = new Map<string, Map<string | null, number>>();
  for (const step of frame.plan.steps) {
    const joined = stepSince(frame, step);
    const over: Iterable<readonly [string | null, number]> = positionsOf(frame, step) ?? [
      [null, -Infinity],
    ];
    const ids: number[] = [];
    const at = new Map<string | null, number>();
    for (const [position, since] of over) {
      const id = nodes.length;
      const onJob = joined !== undefined;
      nodes.push({ id, step: step.id, position, onJob, since: Math.max(since, joined ?? since) });
      ids.push(id);
      at.set(position, id);
    }
    byStep.set(step.id, ids);
    places.set(step.id, at);
  }
  const ofStep = (step: string): readonly number[] => byStep.get(step) ?? [];
  const setOf = (step: string): string | undefined => frame.plan.stepById.get(step)?.each;
  const beside = (node: number, step: string): readonly number[] => {
    const own = nodes[node];
    if (own === undefined) return [];
    const set = setOf(step);
    if (set === undefined || set !== setOf(own.step)) return ofStep(step);
    const same = places.get(step)?.get(own.position);
    return same === undefined ? [] : [same];
  };
  const before: (readonly number[])[] = nodes.map((node) => {
    const step = frame.plan.stepById.get(node.step);
    return step === undefined ? [] : stepsBefore(step).flatMap((id) => beside(node.id, id));
  });
  const behind: number[][] = nodes.map(() => []);
  for (const [id, list] of before.entries()) for (const other of list) behind[other]?.push(id);
  return {
    nodes,
    ofStep,
    at: (step, position) => places.get(step)?.get(position),
    direct: (node) => before[node] ?? [],
    ancestors: closure(nodes, before),
    dependents: closure(nodes, behind),
    beside,
  };
}

/** All nodes reached from one, remembered, since every report of a step asks again. */
function closure(
  nodes: readonly StepNode[],
  ties: readonly (readonly number[])[],
): (node: number) => readonly number[] {
  const known = new Map<number, readonly number[]>();
  return (start) => {
    const found = known.get(start);
    if (found !== undefined) return found;
    const seen = new Set<number>();
    const waiting = [...(ties[start] ?? [])];
    for (let id = waiting.pop(); id !== undefined; id = waiting.pop()) {
      if (seen.has(id)) continue;
      seen.add(id);
      waiting.push(...(ties[id] ?? []));
    }
    const all = [...seen].filter((id) => nodes[id]?.onJob).sort((a, b) => a - b);
    known.set(start, all);
    return all;
  };
}
