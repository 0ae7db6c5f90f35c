// Means: an independent check was reported by somebody who is on record with the work it checks.
// Why it matters: nobody sees his own slip; the check is worth something only with other eyes.
// What to do: have somebody check it who did none of the work, and let that person post it.
// When it may be left: when a controller overrides it with a reason, such as in a workshop of one person.
import { listed, titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';

export const sameHands: Check = {
  rule: 'same-hands',
  run: (job) =>
    job.graph.nodes.flatMap(({ id, step, position, onJob }): Raised[] => {
      const runs = onJob ? job.done.runs(id) : [];
      const refused = runs.flatMap((run) =>
        run.doubts
          .filter(({ why }) => why === 'same-hands' || why === 'same-hands-allowed')
          .map(({ fact, why }) => ({ fact, run, allowed: why === 'same-hands-allowed' })),
      );
      // A claim by other hands settles it, and so does rework: the check is due again anyway.
      const settledBy = ({ run, allowed }: (typeof refused)[number]) =>
        (allowed ? undefined : run.claim) ?? runs[runs.indexOf(run) + 1]?.cycle.begunBy;
      const standing = refused.filter((one) => settledBy(one) === undefined);
      const [first] = standing.length > 0 ? standing : refused;
      if (first === undefined) return [];
      const { report, posted } = first.fact;
      const by = settledBy(first);
      const work = (job.plan.stepById.get(step)?.check ?? []).map((one) => titled(job, one));
      return [
        {
          step,
          position,
          part: null,
          says: `Same hands: ${titled(job, step)}. It is reported by somebody who is on record with ${listed(work)}. ${where(job, position, report.when)} Have it checked by somebody who did none of the work, who posts it.`,
          raisedBy: [report.message],
          coveredFrom: posted,
          ...(by !== undefined && {
            cleared: { by: [by.report.message], how: 'withdrawn' as const },
          }),
        },
      ];
    }),
};
