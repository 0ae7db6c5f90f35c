// Means: a report names a position that is not on this job.
// Why it matters: either the wrong place was worked on, or the work at the right place has no record.
// What to do: correct the position; where the work was needed there, raise a finding for the controller to approve.
// When it may be left: when the controller overrides it with a reason.
import { listed, titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';

export const wrongPosition: Check = {
  rule: 'wrong-position',
  run: (job) => {
    const raised = new Map<string, Raised>();
    for (const { fact, position } of job.misplaced) {
      const { act, when, message } = fact.report;
      const step = act.step ?? '';
      const key = `${step}|${position}`;
      if (raised.has(key)) continue;
      const set = job.plan.stepById.get(step)?.each ?? job.plan.setOf.get(position);
      const on = [...(job.frame.positions.get(set ?? '')?.keys() ?? [])];
      const has = on.length === 0 ? 'no positions' : listed(on);
      raised.set(key, {
        step,
        position,
        part: null,
        says: `Wrong position: ${titled(job, step)}, ${position}. The job has ${has}. ${where(job, position, when)} Correct the position, or report a finding so that the controller can add it.`,
        raisedBy: [message],
        coveredFrom: fact.posted,
      });
    }
    return [...raised.values()];
  },
};
