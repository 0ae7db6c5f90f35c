import type { Watched } from '../../../shared/plan.ts';
import type { Fact } from '../facts/fact.ts';
import type { Plan } from '../plan.ts';
import type { OpenState } from '../view.ts';
import type { Doneness } from './doneness.ts';
import type { Graph } from './graph.ts';

/** One stretch of time for which a state of the plan was true at one place. */
export type Stretch = {
  readonly state: string;
  readonly position: string | null;
  readonly openedBy: Fact;
  readonly from: number;
  /** Undefined while it is still open. */
  readonly until: number | undefined;
  readonly closedBy: Fact | undefined;
};

export type StateHistory = {
  readonly all: readonly Stretch[];
  /** Stretches of a state, in the order in which they were opened. */
  readonly of: (state: string) => readonly Stretch[];
};

type Change = {
  readonly at: number;
  readonly order: number;
  readonly opens: boolean;
  readonly state: string;
  readonly position: string | null;
  readonly fact: Fact;
};

/**
 * When each state was true. A step opens a state once it is started; the step that closes it does so once it is done,
 * and the state is open again when that is undone. What a step once for the job opens at no position, only a closing
 * at every position ends; what is opened at positions ends at each by itself, or at all by a step once for the job.
 */
export function stateHistory(
  plan: Plan,
  graph: Graph,
  done: Doneness,
  facts: readonly Fact[],
): StateHistory {
  const changes = [...changesOfSteps(plan, graph, done), ...changesOfWatched(plan, facts)].sort(
    // At one moment what closes comes first only where it was said first.
    (a, b) => a.at - b.at || a.order - b.order,
  );
  const all: Stretch[] = [];
  const byState = new Map<string, Change[]>();
  for (const change of changes) {
    const list = byState.get(change.state);
    if (list === undefined) byState.set(change.state, [change]);
    else list.push(change);
  }
  for (const [state, list] of byState) all.push(...stretches(plan, graph, state, list));
  const of = new Map<string, Stretch[]>();
  for (const stretch of all) of.set(stretch.state, [...(of.get(stretch.state) ?? []), stretch]);
  return { all, of: (state) => of.get(state) ?? [] };
}

function changesOfSteps(plan: Plan, graph: Graph, done: Doneness): readonly Change[] {
  return graph.nodes.flatMap(({ id, step: stepId, position }) => {
    const step = plan.stepById.get(stepId);
    if (step === undefined || (!step.opens && !step.closes)) return [];
    return done.runs(id).flatMap(({ cycle, doneAt, claim, known }): Change[] => {
      const [first] = cycle.facts;
      const changes: Change[] = [];
      const add = (state: string, opens: boolean, at: number, fact: Fact): void => {
        changes.push({ at, order: fact.order, opens, state, position, fact });
      };
      if (first !== undefined) {
        for (const state of step.opens ?? []) add(state, true, first.when, first);
      }
      if (doneAt !== undefined && claim !== undefined) {
        // Several reports may have been needed: the one that completed it says where in that moment it was.
        const then = cycle.facts.filter(({ when }) => when === doneAt);
        const last = then.find(({ order }) => order === known) ?? then[0] ?? claim;
        for (const state of step.closes ?? []) add(state, false, doneAt, last);
        const undone = cycle.undoneAt;
        if (undone !== undefined) {
          const by = done.runs(id).find((run) => run.cycle.begunBy?.when === undone)?.cycle.begunBy;
          for (const state of step.closes ?? []) add(state, true, undone, by ?? claim);
        }
      }
      return changes;
    });
  });
}

function changesOfWatched(plan: Plan, facts: readonly Fact[]): readonly Change[] {
  return facts.flatMap((fact): Change[] => {
    const watched: Watched | undefined = plan.watchedById.get(fact.report.act.step ?? '');
    if (watched === undefined) return [];
    const over = fact.report.act.kind === 'done';
    const change = (opens: boolean) => (state: string) => ({
      at: fact.when,
      order: fact.order,
      opens,
      state,
      position: null,
      fact,
    });
    return [
      ...(watched.opens ?? []).map(change(true)),
      ...(over ? (watched.closes ?? []).map(change(false)) : []),
    ];
  });
}

type Open = { readonly by: Fact; readonly from: number; closedAt: Set<string> };

function stretches(
  plan: Plan,
  graph: Graph,
  state: string,
  changes: readonly Change[],
): readonly Stretch[] {
  const open = new Map<string | null, Open>();
  const found: Stretch[] = [];
  const close = (position: string | null, change: Change): void => {
    const one = open.get(position);
    if (one === undefined) return;
    open.delete(position);
    const { by, from } = one;
    found.push({ state, position, openedBy: by, from, until: change.at, closedBy: change.fact });
  };
  const closers = placesThatClose(plan, graph, state);
  for (const change of changes) {
    const { position } = change;
    if (change.opens) {
      if (!open.has(position)) {
        open.set(position, { by: change.fact, from: change.at, closedAt: new Set() });
      } else open.get(position)?.closedAt.delete(position ?? '');
      continue;
    }
    if (position === null) {
      for (const place of [...open.keys()]) close(place, change);
      continue;
    }
    close(position, change);
    const whole = open.get(null);
    if (whole === undefined) continue;
    whole.closedAt.add(position);
    if ([...closers].every((place) => whole.closedAt.has(place))) close(null, change);
  }
  for (const [position, { by, from }] of open) {
    found.push({ state, position, openedBy: by, from, until: undefined, closedBy: undefined });
  }
  return found.sort((a, b) => a.from - b.from || a.openedBy.order - b.openedBy.order);
}

/** The positions at which steps of the job close a state. */
function placesThatClose(plan: Plan, graph: Graph, state: string): ReadonlySet<string> {
  const places = graph.nodes.filter(
    ({ step, onJob, position }) =>
      onJob && position !== null && plan.stepById.get(step)?.closes?.includes(state),
  );
  return new Set(places.map(({ position }) => position ?? ''));
}

/** The states of the vehicle that are true now, in the order of the plan. */
export function openStates(plan: Plan, history: StateHistory): readonly OpenState[] {
  return Object.entries(plan.states ?? {}).flatMap(([state, { title, means, forbids }]) => {
    const open = history.of(state).filter(({ until }) => until === undefined);
    const [first] = open;
    if (first === undefined) return [];
    const order = [...plan.setOf.keys()];
    return [
      {
        state,
        title,
        means,
        positions: open
          .flatMap(({ position }) => position ?? [])
          .sort((a, b) => order.indexOf(a) - order.indexOf(b)),
        since: first.openedBy.report.when,
        forbids: forbids ?? [],
      },
    ];
  });
}
