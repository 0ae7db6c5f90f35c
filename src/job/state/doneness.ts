import type { Fact } from '../facts/fact.ts';
import type { Progress } from './progress.ts';

/** The runs of each node of the step graph, in order of time. */
export type Doneness = {
  readonly runs: (node: number) => readonly Progress[];
  /** The run by which a node was done at a time; undefined where it was not. */
  readonly doneAt: (node: number, time: number) => Progress | undefined;
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
    doneAfter: (node, time) => of(node).find(({ doneAt }) => doneAt !== undefined && doneAt > time),
    latest: (node) => of(node).at(-1),
    isDone: (node) => of(node).at(-1)?.state === 'done',
  };
}

/** Whether everything that makes a run done at a time had been posted before a report. */
export function knownBefore(run: Progress, fact: Fact): boolean {
  const { claim, firstClaim, needsKnown, needsAt } = run;
  if (needsKnown > fact.order || claim === undefined || firstClaim === undefined) return false;
  const byFirst = firstClaim.order < fact.order && Math.max(firstClaim.when, needsAt) <= fact.when;
  return claim.order < fact.order || byFirst || claim.report.message === fact.report.message;
}

/** The report that completed a run, in posting order: the one whose arrival settles what waited for it. */
export function completedBy(run: Progress): Fact | undefined {
  return [...run.cycle.facts]
    .filter(({ order }) => order === run.needsKnown || order === run.claim?.order)
    .sort((a, b) => b.order - a.order)[0];
}
