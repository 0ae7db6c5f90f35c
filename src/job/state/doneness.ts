import type { Fact } from '../facts/fact.ts';
import type { Progress } from './progress.ts';

/** The runs of each node of the step graph, in order of time. */
export type Doneness = {
  readonly runs: (node: number) => readonly Progress[];
  /** The run by which a node was done at a time; undefined where it was not. */
  readonly doneAt: (node: number, time: number) => Progress | undefined;
  /** The run by which a node was said to be done at a time, figures that nobody gave apart. */
  readonly saidAt: (node: number, time: number) => Progress | undefined;
  /** The first run that became done after a time. */
  readonly doneAfter: (node: number, time: number) => Progress | undefined;
  /** The run in hand now. */
  readonly latest: (node: number) => Progress | undefined;
  readonly isDone: (node: number) => boolean;
};

export function donenessOf(runs: readonly (readonly Progress[])[]): Doneness {
  const of = (node: number): readonly Progress[] => runs[node] ?? [];
  return {
    runs: of,
    doneAt: (node, time) =>
      of(node).find(
        ({ doneAt, cycle }) =>
          doneAt !== undefined &&
          doneAt <= time &&
          (cycle.undoneAt === undefined || cycle.undoneAt > time),
      ),
    saidAt: (node, time) =>
      of(node).find(
        ({ saidAt, cycle }) =>
          saidAt !== undefined &&
          saidAt <= time &&
          (cycle.undoneAt === undefined || cycle.undoneAt > time),
      ),
    doneAfter: (node, time) => of(node).find(({ doneAt }) => doneAt !== undefined && doneAt > time),
    latest: (node) => of(node).at(-1),
    isDone: (node) => of(node).at(-1)?.state === 'done',
  };
}

/** A run worked out anew from some of its reports. */
export type Evaluate = (run: Progress, facts: readonly Fact[]) => Progress;

/**
 * Whether a run was known to be done at the time of a report when that was posted: by what had been posted before it,
 * or stands in the same message.
 */
export function knownBefore(evaluate: Evaluate, run: Progress, fact: Fact): boolean {
  if (run.known < fact.order) return true;
  const before = run.cycle.facts.filter(
    ({ order, report }) => order < fact.order || report.message === fact.report.message,
  );
  const { doneAt } = evaluate(run, before);
  return doneAt !== undefined && doneAt <= fact.when;
}

/** The same for a run that was said to be done, figures that nobody gave apart. */
export function saidBefore(evaluate: Evaluate, run: Progress, fact: Fact): boolean {
  const before = run.cycle.facts.filter(
    ({ order, report }) => order < fact.order || report.message === fact.report.message,
  );
  const { saidAt } = evaluate(run, before);
  return saidAt !== undefined && saidAt <= fact.when;
}

/** The report by which it became known, after another was posted, that a run had been done in time for that. */
export function toldBy(evaluate: Evaluate, run: Progress, fact: Fact): Fact | undefined {
  const later = run.cycle.facts
    .filter(({ order }) => order > fact.order)
    .sort((a, b) => a.order - b.order);
  return later.find((last) => {
    const until = run.cycle.facts.filter(({ order }) => order <= last.order);
    const { doneAt } = evaluate(run, until);
    return doneAt !== undefined && doneAt <= fact.when;
  });
}

/** The last report in posting order that was needed to make a run done. */
export const completedBy = (run: Progress): Fact | undefined =>
  run.cycle.facts.find(({ order }) => order === run.known) ?? run.claim;
