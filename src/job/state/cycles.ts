import type { Step } from '../../../shared/plan.ts';
import type { Fact } from '../facts/fact.ts';
import { fluidAsks } from '../facts/measure.ts';
import type { Plan } from '../plan.ts';
import type { Graph } from './graph.ts';

/** One run of a step at one position, from its first report until rework makes it due again. */
export type Cycle = {
  readonly node: number;
  /** By the time of the work. */
  readonly facts: Fact[];
  /** The report by which an earlier run was undone; undefined for the first run. */
  readonly begunBy: Fact | undefined;
  /** True where it was undone by rework on another step and must be done again. */
  readonly dueAgain: boolean;
  undoneAt: number | undefined;
};

/** A step done again, with everything that this makes due again. */
export type Rework = {
  readonly fact: Fact;
  readonly node: number;
  readonly undone: readonly number[];
};

export type Sweep = {
  /** By node, in order of time; at least one for each node that has a report. */
  readonly cycles: readonly (readonly Cycle[])[];
  readonly reworks: readonly Rework[];
};

/** Goes through the reports in the order of the work and parts each step's reports into runs. */
export function sweepCycles(plan: Plan, graph: Graph, facts: readonly Fact[]): Sweep {
  const cycles: Cycle[][] = graph.nodes.map(() => []);
  const reworks: Rework[] = [];
  const fluids = fluidDirections(plan);
  const latest = (node: number): Cycle => {
    const known = cycles[node]?.at(-1);
    if (known !== undefined) return known;
    const first: Cycle = {
      node,
      facts: [],
      begunBy: undefined,
      dueAgain: false,
      undoneAt: undefined,
    };
    cycles[node]?.push(first);
    return first;
  };
  const begin = (node: number, by: Fact, dueAgain: boolean): void => {
    latest(node).undoneAt = by.when;
    cycles[node]?.push({ node, facts: [], begunBy: by, dueAgain, undoneAt: undefined });
  };
  const undo = (targets: ReadonlySet<number>, by: Fact, node: number): void => {
    const undone = [...targets]
      .filter((id) => id !== node && (cycles[id]?.at(-1)?.facts.length ?? 0) > 0)
      .sort((a, b) => a - b);
    for (const id of undone) begin(id, by, true);
    if (undone.length > 0) reworks.push({ fact: by, node, undone });
  };
  for (const fact of facts) {
    const step = plan.stepById.get(fact.report.act.step ?? '');
    if (step === undefined) continue;
    const isRework = fact.report.act.again === true && !fluids.addsTo(step, fact);
    fluids.note(step, fact);
    for (const node of fact.nodes) {
      if (isRework && hasClaim(latest(node))) {
        const { stage } = fact.report.act;
        if (stage === undefined || stage === 1) begin(node, fact, false);
        undo(undoneBy(graph, step, node), fact, node);
      }
      const joined = graph.nodes[node]?.since ?? -Infinity;
      if (joined > -Infinity && latest(node).facts.length === 0 && fact.when >= joined) {
        undo(restedTooSoon(graph, cycles, node, joined), fact, node);
      }
      latest(node).facts.push(fact);
    }
  }
  return { cycles, reworks };
}

const hasClaim = (cycle: Cycle): boolean =>
  cycle.facts.some(({ report }) => report.act.kind === 'done');

/** The steps named in `undoes`, at the same position where both run over the same, and all that rests on them. */
function undoneBy(graph: Graph, step: Step, node: number): ReadonlySet<number> {
  const targets = (step.undoes ?? []).flatMap((id) => graph.beside(node, id));
  return new Set(targets.flatMap((id) => [id, ...graph.dependents(id)]));
}

/**
 * A position that joined the job through a finding: what rests on its steps and was done before it joined has to be
 * done again once work there begins, since it was done without them.
 */
function restedTooSoon(
  graph: Graph,
  cycles: readonly (readonly Cycle[])[],
  node: number,
  joined: number,
): ReadonlySet<number> {
  return new Set(
    graph.dependents(node).filter((id) => {
      const first = cycles[id]?.at(-1)?.facts[0];
      return first !== undefined && first.when < joined;
    }),
  );
}

/**
 * "Again" said of a volume is a top-up, unless the fluid went the other way in between: then the draining or filling
 * was truly done again.
 */
function fluidDirections(plan: Plan): {
  readonly addsTo: (step: Step, fact: Fact) => boolean;
  readonly note: (step: Step, fact: Fact) => void;
} {
  const last = new Map<string, 'drained' | 'filled'>();
  const any = plan.steps.some((step) => fluidAsks(step).length > 0);
  return {
    addsTo: (step, fact) => {
      if (!any || fact.report.act.quantity === undefined) return false;
      const [ask] = fluidAsks(step);
      return ask !== undefined && last.get(ask.fluid) === ask.kind;
    },
    note: (step, fact) => {
      if (!any || fact.report.act.kind === 'started') return;
      for (const ask of fluidAsks(step)) last.set(ask.fluid, ask.kind);
    },
  };
}
