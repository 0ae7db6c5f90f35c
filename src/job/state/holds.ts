import type { JobEventOf } from '../../../shared/event.ts';
import type { Step } from '../../../shared/plan.ts';
import type { TimedEvent } from '../facts/canonical.ts';
import type { Plan } from '../plan.ts';
import type { Around, HoldState } from '../view.ts';
import type { Rework } from './cycles.ts';
import type { Doneness, Evaluate } from './doneness.ts';
import type { Graph } from './graph.ts';

type Decision = JobEventOf<'hold-released' | 'hold-refused'>;

/** A release or refusal of one hold point at one position, for as long as it holds. */
export type Ruling = {
  readonly event: Decision;
  readonly at: number;
  /** When the work under it was done again, or the next ruling came; undefined while it holds. */
  readonly until: number | undefined;
};

export type HoldHistory = {
  readonly isHold: (node: number) => boolean;
  readonly rulings: (node: number) => readonly Ruling[];
  readonly releasedAt: (node: number, time: number) => boolean;
  /** The first release after a time. */
  readonly releasedAfter: (node: number, time: number) => Ruling | undefined;
  /** When the work under a hold point was last done again before a time; -Infinity where it was not. */
  readonly lastRedone: (node: number, time: number) => number;
};

type Given = {
  readonly plan: Plan;
  readonly graph: Graph;
  readonly events: readonly TimedEvent[];
  readonly reworkTimes: ReadonlyMap<number, readonly number[]>;
  readonly done: Doneness;
  readonly evaluate: Evaluate;
  readonly around: Around;
};

/**
 * Releases count only when the step was done by then, as had been posted by then, when the plan lets that role release,
 * and never on one's own work. Rework of the step, of what it checks or of the steps directly under it withdraws a release.
 */
export function holdHistory(given: Given): HoldHistory {
  const { plan, graph, events } = given;
  const stepOf = (node: number): Step | undefined =>
    plan.stepById.get(graph.nodes[node]?.step ?? '');
  const isHold = (node: number): boolean => stepOf(node)?.hold !== undefined;
  const redone = new Map<number, readonly number[]>();
  const redoings = (node: number): readonly number[] => {
    const known = redone.get(node);
    if (known !== undefined) return known;
    const under = [node, ...graph.direct(node)];
    const times = under.flatMap((id) => given.reworkTimes.get(id) ?? []).sort((a, b) => a - b);
    redone.set(node, times);
    return times;
  };
  const redoneAfter = (node: number, time: number): number | undefined =>
    redoings(node).find((at) => at > time);
  const decisions = new Map<number, { event: Decision; at: number }[]>();
  for (const { event, at } of events) {
    if (event.kind !== 'hold-released' && event.kind !== 'hold-refused') continue;
    const nodes =
      event.position === null
        ? graph.ofStep(event.step)
        : [graph.at(event.step, event.position)].filter((id) => id !== undefined);
    for (const node of nodes) {
      const step = stepOf(node);
      if (step?.hold === undefined || !mayDecide(given, step, node, event)) continue;
      if (event.kind === 'hold-released' && !wasPosted(given, node, at)) continue;
      decisions.set(node, [...(decisions.get(node) ?? []), { event, at }]);
    }
  }
  const known = new Map<number, readonly Ruling[]>();
  for (const [node, list] of decisions) {
    known.set(
      node,
      list.map(({ event, at }, index) => {
        const ends = [list[index + 1]?.at, redoneAfter(node, at)].filter(
          (end) => end !== undefined,
        );
        return { event, at, until: ends.length === 0 ? undefined : Math.min(...ends) };
      }),
    );
  }
  const rulings = (node: number): readonly Ruling[] => known.get(node) ?? [];
  const releases = (node: number): readonly Ruling[] =>
    rulings(node).filter(({ event }) => event.kind === 'hold-released');
  return {
    isHold,
    rulings,
    lastRedone: (node, time) => Math.max(-Infinity, ...redoings(node).filter((at) => at <= time)),
    releasedAt: (node, time) =>
      releases(node).some(({ at, until }) => at <= time && (until === undefined || until > time)),
    releasedAfter: (node, time) => releases(node).find(({ at }) => at > time),
  };
}

/** Nobody released what was reported only afterwards, whatever time the report names. */
function wasPosted({ done, evaluate }: Given, node: number, at: number): boolean {
  const run = done.doneAt(node, at);
  if (run === undefined) return false;
  const { facts } = run.cycle;
  const posted = facts.filter((fact) => fact.posted <= at);
  if (posted.length === facts.length) return true;
  const { doneAt } = evaluate(run, posted);
  return doneAt !== undefined && doneAt <= at;
}

function mayDecide(given: Given, step: Step, node: number, event: Decision): boolean {
  const roles = event.role === undefined ? rolesOf(given.around, event.by) : [event.role];
  const allowed: readonly string[] = step.hold?.release ?? [];
  if (roles !== undefined && !roles.some((role) => allowed.includes(role))) return false;
  return !given.done
    .runs(node)
    .some(({ cycle }) =>
      cycle.facts.some(({ report }) => [report.worker, report.reporter].includes(event.by)),
    );
}

/** The roles the settings give a person; undefined where nothing is known of people, so that nothing is refused. */
const rolesOf = (around: Around, name: string): readonly string[] | undefined =>
  around.people?.find((one) => one.name === name)?.roles;

/** Times at which each node was done again or made due again. */
export function reworkTimes(
  graph: Graph,
  done: Doneness,
  reworks: readonly Rework[],
): ReadonlyMap<number, readonly number[]> {
  const times = new Map<number, number[]>();
  const note = (node: number, at: number): void => {
    const list = times.get(node);
    if (list === undefined) times.set(node, [at]);
    else list.push(at);
  };
  for (const { id } of graph.nodes) {
    for (const { cycle } of done.runs(id)) {
      if (cycle.begunBy !== undefined) note(id, cycle.begunBy.when);
    }
  }
  for (const { fact, node } of reworks) note(node, fact.when);
  return times;
}

/** What each hold point waits for now. */
export function holdStates(graph: Graph, done: Doneness, holds: HoldHistory): readonly HoldState[] {
  return graph.nodes
    .filter(({ id, onJob }) => onJob && holds.isHold(id))
    .map(({ id, step, position }) => {
      const last = holds.rulings(id).at(-1);
      const standing = last?.until === undefined ? last : undefined;
      const by = standing && { by: standing.event.by, at: standing.event.at };
      if (!done.isDone(id)) return { step, position, state: 'not reached' };
      if (standing?.event.kind === 'hold-released') {
        return { step, position, state: 'released', ...by };
      }
      if (standing?.event.kind === 'hold-refused')
        return { step, position, state: 'refused', ...by };
      return { step, position, state: 'waits' };
    });
}
