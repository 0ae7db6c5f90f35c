// Means: a step is reported whose parts must be new, and nobody has said that they are.
// Why it matters: a single-use part has taken its set; used again it leaks, stretches or comes loose.
// What to do: say that the part is new, or fit a new one and report the step again.
// When it may be left: when the maker's data allow the part to be used again and the controller says so.
import type { Fact } from '../facts/fact.ts';
import { titled, where, why } from '../words.ts';
import type { Check, Raised } from './check.ts';

export const notRenewed: Check = {
  rule: 'not-renewed',
  run: (job) =>
    job.graph.nodes.flatMap(({ id, step: stepId, position, onJob }) => {
      const step = job.plan.stepById.get(stepId);
      const run = job.done.latest(id);
      const claim = run?.claim;
      if (!onJob || step?.renew === undefined || run === undefined || claim === undefined)
        return [];
      return step.renew.flatMap(({ part }): Raised[] => {
        const said = run.cycle.facts.filter((fact) => saysNew(fact, part));
        const [first] = [...said].sort((a, b) => a.order - b.order);
        const atOnce =
          first !== undefined &&
          (first.order <= claim.order || first.report.message === claim.report.message);
        if (atOnce) return [];
        return [
          {
            step: stepId,
            position,
            part,
            says: `Not said to be new: ${titled(job, stepId)}, ${part}. It must be new each time.${why(job, stepId)} ${where(job, position, claim.report.when)} Say that it is new, or fit a new one and report the step again.`,
            raisedBy: [claim.report.message],
            coveredFrom: claim.posted,
            ...(first && { cleared: { by: [first.report.message], how: 'withdrawn' as const } }),
          },
        ];
      });
    }),
};

/** "All new" without a part named says it of every part of the step. */
function saysNew({ report }: Fact, part: string): boolean {
  const { renewed } = report.act;
  if (renewed === undefined) return false;
  return renewed.length === 0 || renewed.some((one) => one.toLowerCase() === part.toLowerCase());
}
