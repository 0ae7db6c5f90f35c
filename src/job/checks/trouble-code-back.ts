// Means: after the trouble codes were cleared one is reported again, or a new one is.
// Why it matters: a code that comes back was not mended; a new one may be of our own making.
// What to do: find the cause, clear the code, and report the reading after the next run.
// When it may be left: when the code belongs to another repair that the controller has approved.

import type { Step } from '../../../shared/plan.ts';
import { parseTroubleCode, type TroubleCode, writeTroubleCode } from '../../trade/trouble-code.ts';
import { sameCode } from '../../trade/trouble-code-compare.ts';
import type { Fact } from '../facts/fact.ts';
import type { Job } from '../state/job.ts';
import { titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';

type Kind = 'before' | 'cleared' | 'none-active';

const asksFor = (step: Step | undefined, kind: Kind): boolean =>
  step?.report?.some((ask) => ask.kind === 'trouble-codes' && ask.ask === kind) ?? false;

export const troubleCodeBack: Check = {
  rule: 'trouble-code-back',
  run: (job) => {
    const cleared = clearedAt(job);
    const early = ({ fact }: Found): boolean => cleared === undefined || fact.when <= cleared;
    const listed = codesOf(job, 'before', cleared);
    const before = listed.filter(early).flatMap(({ code }) => code ?? []);
    // A code named at the first reading's step after the clearing was not there before by that.
    const after = [
      ...codesOf(job, 'none-active', cleared),
      ...listed.filter((found) => !early(found)),
    ];
    return after.map((found) => flagOf(job, found, before));
  },
};

type Found = {
  readonly fact: Fact;
  readonly node: number;
  readonly name: string;
  /** Undefined where the text has no form we know; it is a code all the same. */
  readonly code: TroubleCode | undefined;
};

function flagOf(job: Job, found: Found, before: readonly TroubleCode[]): Raised {
  const { fact, node, name, code } = found;
  const { step = '', position = null } = job.graph.nodes[node] ?? {};
  const known = code !== undefined && before.some((one) => sameCode(one, code));
  const clean = cleanAfter(job, node, fact);
  const what = known ? 'as before the work' : 'and was not there before the work';
  return {
    step,
    position,
    part: name,
    says: `Trouble code ${known ? 'back' : 'new'}: ${titled(job, step)}. ${name} is reported, ${what}. ${where(job, position, fact.report.when)} Find the cause, clear it, and read the codes again after a run.`,
    raisedBy: [fact.report.message],
    coveredFrom: fact.posted,
    ...(clean && { cleared: { by: [clean.report.message], how: 'settled' as const } }),
  };
}

/** When the codes were first cleared. */
function clearedAt(job: Job): number | undefined {
  const times = job.graph.nodes
    .filter(({ step }) => asksFor(job.plan.stepById.get(step), 'cleared'))
    .flatMap(({ id }) => job.done.runs(id).flatMap(({ doneAt }) => doneAt ?? []));
  return times.length === 0 ? undefined : Math.min(...times);
}

/** The codes named at the steps that ask for them, each by its last report. */
function codesOf(job: Job, kind: Kind, cleared: number | undefined): readonly Found[] {
  const found = new Map<string, Found>();
  for (const { id, step } of job.graph.nodes) {
    if (!asksFor(job.plan.stepById.get(step), kind)) continue;
    for (const { cycle } of job.done.runs(id)) {
      for (const fact of cycle.facts) {
        const text = fact.report.act.code;
        if (text === undefined) continue;
        const parsed = parseTroubleCode(text);
        const code = parsed.ok ? parsed.value : undefined;
        const name = code === undefined ? text.trim().toUpperCase() : writeTroubleCode(code);
        const key = `${id}|${name}|${fact.when > (cleared ?? Infinity)}`;
        found.set(key, { fact, node: id, name, code });
      }
    }
  }
  return [...found.values()];
}

/** A later reading at the same step that names no code. */
function cleanAfter(job: Job, node: number, fact: Fact): Fact | undefined {
  const facts = job.done.runs(node).flatMap(({ cycle }) => cycle.facts);
  const named = new Set(
    facts.filter(({ report }) => report.act.code !== undefined).map(({ report }) => report.message),
  );
  return facts.find(
    ({ report, when, order }) =>
      when >= fact.when &&
      order > fact.order &&
      report.act.kind === 'done' &&
      !named.has(report.message),
  );
}
