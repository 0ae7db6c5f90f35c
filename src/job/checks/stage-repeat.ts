// Means: one stage of a tightening or loosening was reported twice, without a word that it was done again.
// Why it matters: an angle turned twice overstretches the bolt, and nobody sees it afterwards.
// What to do: take the second report back if it only repeats the first; else renew the bolts or begin at stage 1.
// When it may be left: when the controller says that the stage was only checked.
import { clock, titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';

export const stageRepeat: Check = {
  rule: 'stage-repeat',
  run: (job) =>
    job.graph.nodes.flatMap(({ id, step, position }): Raised[] => {
      const raised = new Map<number, Raised>();
      const runs = job.done.runs(id);
      for (const [index, run] of runs.entries()) {
        const first = new Map<number, string>();
        for (const { stage, fact, whole, again } of run.stages?.records ?? []) {
          const { report, posted } = fact;
          const earlier = first.get(stage);
          if (whole && !first.has(stage)) first.set(stage, report.when);
          if (earlier === undefined || again || !whole) continue;
          const redone = runs[index + 1]?.cycle.begunBy;
          if (raised.get(stage)?.cleared === undefined && raised.has(stage)) continue;
          raised.set(stage, {
            step,
            position,
            part: String(stage),
            says: `Stage repeated: ${titled(job, step)}, stage ${stage}. It is reported twice, at ${clock(earlier)} and ${clock(report.when)}. ${where(job, position, report.when)} Take the second report back if it repeats the first; else begin at stage 1 again.`,
            raisedBy: [report.message],
            coveredFrom: posted,
            ...(redone && { cleared: { by: [redone.report.message], how: 'settled' as const } }),
          });
        }
      }
      return [...raised.values()];
    }),
};
