// Who may say what: whose word counts for a step, and what else bears on whether a report is enough.
import type { Step } from '../../../shared/plan.ts';
import type { Fact } from '../facts/fact.ts';
import type { Plan } from '../plan.ts';
import type { Around } from '../view.ts';
import { type CountAsk, countAsks, countOf } from './asks/others.ts';
import type { Cycle } from './cycles.ts';
import type { Graph } from './graph.ts';
import type { Doubt } from './progress.ts';

export type Hearing = {
  readonly plan: Plan;
  /**
   * Why a report does not count as the word that its step is done; undefined where it does.
   * `words`: who has posted in this run that it is done.
   */
  readonly doubt: (
    step: Step,
    node: number,
    fact: Fact,
    words: ReadonlySet<string>,
  ) => Doubt | undefined;
  /** How many parts have to be reported: of what goes back on as many as came off at the same place. */
  readonly needed: (ask: CountAsk, node: number) => number;
  readonly hasPhoto: (fact: Fact) => boolean;
};

type Given = {
  readonly plan: Plan;
  readonly graph: Graph;
  readonly cycles: readonly (readonly Cycle[])[];
  readonly around: Around;
  readonly photos: ReadonlySet<string>;
  /** Whether a report was confirmed by the person it names as having done the work. */
  readonly confirmed: (fact: Fact) => boolean;
  /** Whether a controller let a check by the same hands stand. */
  readonly allowed: (step: string, position: string | null, fact: Fact) => boolean;
};

export function hearingOf(given: Given): Hearing {
  const { plan, graph, cycles } = given;
  const hands = handsOn(given);
  const able = new Map(given.around.people?.map((one) => [one.name, one.competences ?? []]));
  const offAsks = new Map<string, { step: Step; ask: CountAsk }[]>();
  for (const step of plan.steps) {
    for (const ask of countAsks(step)) {
      if (ask.kind !== 'off') continue;
      const key = ask.part.toLowerCase();
      offAsks.set(key, [...(offAsks.get(key) ?? []), { step, ask }]);
    }
  }
  return {
    plan,
    doubt: (step, node, fact, words) => {
      const { worker, reporter } = fact.report;
      const position = graph.nodes[node]?.position ?? null;
      if (step.check !== undefined) {
        const theirs = step.check.flatMap((id) => graph.beside(node, id));
        const same = [worker, reporter].some((name) =>
          theirs.some((id) => (hands(id).get(name) ?? Infinity) <= fact.when),
        );
        if (same) {
          return given.allowed(step.id, position, fact) ? 'same-hands-allowed' : 'same-hands';
        }
      }
      const grave = step.check ?? step.hold ?? (step.weight === 'safety-critical' || undefined);
      if (grave !== undefined && worker !== reporter && !given.confirmed(fact)) {
        if (!words.has(worker)) return 'own-word';
      }
      const competences = able.get(worker);
      const lacks =
        step.competence !== undefined &&
        competences !== undefined &&
        !step.competence.some((one) => competences.includes(one));
      return lacks ? 'competence' : undefined;
    },
    needed: (ask, node) => {
      const [off, ...others] = offAsks.get(ask.part.toLowerCase()) ?? [];
      if (ask.kind === 'off' || off === undefined || others.length > 0) return ask.count;
      if (off.ask.count !== ask.count) return ask.count;
      const own = graph.nodes[node];
      const places = graph.beside(node, off.step.id);
      const [place] = places;
      if (own === undefined || place === undefined || places.length > 1) return ask.count;
      const latest = cycles[place]?.findLast((cycle) => cycle.facts.length > 0);
      return (latest && countOf(off.ask, off.step, latest.facts)?.total) ?? ask.count;
    },
    hasPhoto: (fact) => given.photos.has(fact.report.message),
  };
}

/**
 * Everybody on the work of a node, reporters included, with the time since when that bears on a check of it: from the
 * beginning, but for work done again, which bears only on checks after it.
 */
function handsOn(given: Given): (node: number) => ReadonlyMap<string, number> {
  const known = new Map<number, ReadonlyMap<string, number>>();
  return (node) => {
    const found = known.get(node);
    if (found !== undefined) return found;
    const names = new Map<string, number>();
    for (const { facts } of given.cycles[node] ?? []) {
      for (const { report, when } of facts) {
        const since = report.act.again === true ? when : -Infinity;
        for (const name of [report.worker, report.reporter]) {
          names.set(name, Math.min(names.get(name) ?? Infinity, since));
        }
      }
    }
    known.set(node, names);
    return names;
  };
}
