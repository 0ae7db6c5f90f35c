// Means: a step was reported before the time it has to wait after another one was over.
// Why it matters: hot metal burns and warps, sealant that has not cured leaks, a joint that has not settled comes loose.
// What to do: wait until the time given, then do the step again or check what was done too soon.
// When it may be left: when the controller overrides it with a reason, such as a measured temperature.
import type { Fact } from '../facts/fact.ts';
import { inUnit } from '../facts/measure.ts';
import { inOffset, offsetMinutes } from '../facts/said-time.ts';
import type { Job } from '../state/job.ts';
import { clock, figure, titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';

const MINUTE = 60_000;

export const tooSoon: Check = {
  rule: 'too-soon',
  run: (job) =>
    job.graph.nodes.flatMap(({ id }) => {
      const step = job.plan.stepById.get(job.graph.nodes[id]?.step ?? '');
      if (step === undefined || (!step.waits && !step.within?.km)) return [];
      const runs = job.done.runs(id);
      const raised = runs.flatMap((run, index) => {
        const again = runs[index + 1]?.cycle.begunBy;
        const found = run.cycle.facts.find((fact) => sayTooSoon(job, id, fact) !== undefined);
        return found === undefined ? [] : [{ fact: found, again }];
      });
      const shown = raised.find(({ again }) => again === undefined) ?? raised[0];
      return shown === undefined ? [] : [flagOf(job, id, shown.fact, shown.again)];
    }),
};

function flagOf(job: Job, node: number, fact: Fact, again: Fact | undefined): Raised {
  const { step = '', position = null } = job.graph.nodes[node] ?? {};
  const { report } = fact;
  return {
    step,
    position,
    part: null,
    says: `Too soon: ${titled(job, step)}. ${sayTooSoon(job, node, fact) ?? ''}`,
    raisedBy: [report.message],
    coveredFrom: fact.posted,
    ...(again && { cleared: { by: [again.report.message], how: 'settled' as const } }),
  };
}

/** What is too soon about a report, where and what to do; undefined where nothing is. */
function sayTooSoon(job: Job, node: number, fact: Fact): string | undefined {
  const { step: id = '', position = null } = job.graph.nodes[node] ?? {};
  const step = job.plan.stepById.get(id);
  if (step === undefined) return undefined;
  const at = where(job, position, fact.report.when);
  for (const wait of step.waits ?? []) {
    for (const other of job.graph.beside(node, wait.after)) {
      const since = job.done.doneAt(other, fact.when)?.doneAt;
      if (since === undefined || fact.when - since >= wait.minutes * MINUTE) continue;
      const gone = Math.floor((fact.when - since) / MINUTE);
      const offset = offsetMinutes(fact.report.when);
      const over = clock(inOffset(since + wait.minutes * MINUTE, offset));
      return `Reported ${gone} min after ${titled(job, wait.after)}, at least ${wait.minutes} min needed: ${wait.because}. ${at} Wait until ${over}, then do it again or check it.`;
    }
  }
  const km = step.within?.km;
  const { quantity } = fact.report.act;
  const run = km && quantity && inUnit(quantity.value, quantity.unit, 'km');
  if (km === undefined || run === undefined || quantity === undefined || run >= km.min) {
    return undefined;
  }
  return `Reported after ${figure(quantity)}, ${km.min} to ${km.max} km expected: ${step.within?.because}. ${at} Do it again after ${km.min} km.`;
}
