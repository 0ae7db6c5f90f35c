// From drafts to the reports that stand: before-or-after answers taken in, places in posting order given.

import type { Graph } from '../state/graph.ts';
import type { Report } from '../view.ts';
import { type Answer, questionId } from './answers.ts';
import type { Draft, Fact } from './fact.ts';

export type SettledFacts = {
  readonly posting: readonly Fact[];
  /** The standing report a draft became; undefined where it was taken back. */
  readonly of: (draft: Draft) => Fact | undefined;
};

/** Gives standing reports their place in posting order, and the time that "before" puts them at. */
export function settleFacts(
  drafts: readonly Draft[],
  graph: Graph,
  answers: ReadonlyMap<string, Answer>,
): SettledFacts {
  const live = drafts
    .filter((draft) => draft.live)
    .sort(
      (a, b) =>
        a.posted - b.posted ||
        (a.message < b.message ? -1 : a.message > b.message ? 1 : 0) ||
        a.index - b.index,
    );
  putBefore(live, graph, answers);
  const reports = new Map<Draft, Report>(live.map((draft) => [draft, reportOf(draft)]));
  const facts = new Map<Draft, Fact>();
  const posting = live.map((draft, order): Fact => {
    const fact = {
      report: reports.get(draft) ?? reportOf(draft),
      order,
      posted: draft.posted,
      when: draft.when,
      nodes: draft.nodes,
      unsettled: draft.unsettled,
      disputes: draft.disputed?.live ? reports.get(draft.disputed) : undefined,
    };
    facts.set(draft, fact);
    return fact;
  });
  return { posting, of: (draft) => facts.get(draft) };
}

const reportOf = (draft: Draft): Report => ({
  message: draft.message,
  index: draft.index,
  act: draft.act,
  posted: draft.postedIso,
  when: draft.whenIso,
  timeSaid: draft.timeSaid,
  worker: draft.worker,
  reporter: draft.reporter,
  role: draft.role,
});

/** A late report answered "before" happened no later than the first report that needed it. */
function putBefore(
  live: readonly Draft[],
  graph: Graph,
  answers: ReadonlyMap<string, Answer>,
): void {
  const before = [...answers.values()].filter(({ value }) => value === 'before');
  if (before.length === 0) return;
  const answered = new Set(before.map(({ question }) => question));
  const asked = (draft: Draft, stage?: number): boolean =>
    answered.has(questionId(draft.message, 'before-or-after', draft.act.step ?? '', stage));
  for (const draft of live) {
    const { stage } = draft.act;
    const wholly = asked(draft);
    const inStages = stage !== undefined && asked(draft, stage);
    if (!wholly && !inStages) continue;
    const needing = new Set(draft.nodes.flatMap((node) => graph.dependents(node)));
    for (const other of live) {
      if (other.when >= draft.when) continue;
      const needs = wholly && other.nodes.some((node) => needing.has(node));
      const above =
        inStages &&
        other.act.step === draft.act.step &&
        (other.act.stage ?? 0) > stage &&
        other.nodes.some((node) => draft.nodes.includes(node));
      if (!needs && !above) continue;
      draft.when = other.when;
      draft.whenIso = other.whenIso;
      draft.timeSaid = true;
    }
  }
}
