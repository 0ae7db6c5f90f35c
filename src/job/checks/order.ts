// What the order rules share: whether a step was done before a report that needs it, and since when that is known.
import { questionId } from '../facts/answers.ts';
import type { Fact } from '../facts/fact.ts';
import { knownBefore, saidBefore, toldBy } from '../state/doneness.ts';
import type { Job } from '../state/job.ts';
import type { Progress } from '../state/progress.ts';
import type { Want } from '../view.ts';
import { clock, titled } from '../words.ts';

/** How a report stands to a step it needs. */
export type Outcome =
  | { readonly is: 'fine' }
  /** Done in time, but told later. */
  | { readonly is: 'told-late'; readonly run: Progress }
  | { readonly is: 'missing'; readonly run: Progress | undefined }
  /** Told later without a time: before or after is not known yet. */
  | { readonly is: 'asked'; readonly by: Fact }
  | { readonly is: 'afterwards'; readonly by: Fact };

const FINE: Outcome = { is: 'fine' };

/** Whether a node was done when a report that needs it says it happened. */
export function outcomeOf(job: Job, node: number, fact: Fact): Outcome {
  const said = job.done.saidAt(node, fact.when);
  if (said !== undefined && saidBefore(job.evaluate, said, fact)) return FINE;
  const run = job.done.doneAt(node, fact.when);
  if (run !== undefined) {
    const fine = knownBefore(job.evaluate, run, fact) || wasDone(job, node, fact);
    return fine ? FINE : { is: 'told-late', run };
  }
  if (said !== undefined) return { is: 'told-late', run: said };
  const later = job.done.doneAfter(node, fact.when);
  if (later?.claim === undefined) return { is: 'missing', run: job.done.latest(node) };
  const by = later.cycle.facts.find(({ when }) => when === later.doneAt) ?? later.claim;
  const answered = job.answers.get(beforeOrAfter(by))?.value !== undefined;
  return by.report.timeSaid || answered ? { is: 'afterwards', by } : { is: 'asked', by };
}

/** What withdrew a flag: the late report, and the answer that said it was before. */
export function withdrawnBy(job: Job, run: Progress, fact: Fact): readonly string[] {
  const by = toldBy(job.evaluate, run, fact) ?? (run.doneAt === undefined ? run.claim : undefined);
  if (by === undefined) return [];
  const answer = job.answers.get(beforeOrAfter(by));
  const said = answer?.value === 'before' ? [answer.settledBy] : [];
  return [...new Set([by.report.message, ...said])];
}

/** By what had been posted until then it was done: only later was it told that it had been done again before. */
function wasDone(job: Job, node: number, fact: Fact): boolean {
  return job.done.runs(node).some(({ doneAt, cycle }, index, runs) => {
    const begun = runs[index + 1]?.cycle.begunBy;
    const run = runs[index];
    return (
      doneAt !== undefined &&
      doneAt <= fact.when &&
      cycle.undoneAt !== undefined &&
      begun !== undefined &&
      begun.order > fact.order &&
      run !== undefined &&
      knownBefore(job.evaluate, run, fact)
    );
  });
}

/** The id of the question whether a report was before or after what needed it. */
export const beforeOrAfter = ({ report }: Fact): string =>
  questionId(report.message, 'before-or-after', report.act.step ?? '');

/** The one question a late report without a time brings. */
export function askBeforeOrAfter(job: Job, late: Fact, needing: Fact): Omit<Want, 'flag'> {
  const what = titled(job, late.report.act.step ?? '');
  const than = titled(job, needing.report.act.step ?? '');
  const at = clock(needing.report.when);
  return {
    question: beforeOrAfter(late),
    message: late.report.message,
    about: 'before-or-after',
    asks: `Was ${what} done before or after ${than} (${at})?`,
    choices: [
      { says: `Before ${at}`, value: 'before' },
      { says: 'After', value: 'after' },
    ],
  };
}

/** A report at one node of the order. */
export type Use = { readonly fact: Fact; readonly node: number };

/**
 * Visits the reports of work at their nodes in posting order, but for those that can say nothing new: a repeated
 * report of a step that was found in order before, with no rework and no refusal of a hold point in between.
 *
 * @param inOrder looks at one, and says whether it was in order
 */
export function eachUse(job: Job, inOrder: (use: Use) => boolean): void {
  const undone = job.graph.nodes
    .flatMap(({ id }) => [
      ...job.done.runs(id).flatMap(({ cycle }) => cycle.begunBy?.when ?? []),
      ...job.holds
        .rulings(id)
        .flatMap(({ event, at }) => (event.kind === 'hold-refused' ? at : [])),
    ])
    .sort((a, b) => a - b);
  const reworksUntil = (time: number): number => {
    let low = 0;
    let high = undone.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((undone[middle] ?? 0) <= time) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  const clean = new Map<number, Fact>();
  for (const fact of job.posting) {
    for (const node of fact.nodes) {
      const known = clean.get(node);
      const same =
        known !== undefined &&
        known.when <= fact.when &&
        reworksUntil(known.when) === reworksUntil(fact.when);
      if (same) continue;
      if (inOrder({ fact, node })) clean.set(node, fact);
    }
  }
}

/** Whether the step was properly done again later, with what it needs done first. */
export function doneAgainProperly(
  job: Job,
  node: number,
  needed: number,
  fact: Fact,
): Fact | undefined {
  const runs = job.done.runs(node);
  if (runs.length < 2) return undefined;
  const own = runs.findIndex(({ cycle }) => cycle.facts.includes(fact));
  for (const run of runs.slice(own + 1)) {
    const [first] = run.cycle.facts;
    if (run.doneAt === undefined || first === undefined) continue;
    if (job.done.saidAt(needed, first.when) !== undefined) return first;
  }
  return undefined;
}
