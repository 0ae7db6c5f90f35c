// Means: a stage of a tightening or loosening was reported while the one below it has no record before that.
// Why it matters: a joint pulled down in one go sits crooked, and the bolts pulled first are loose again at the end.
// What to do: report the stage below with its time if it was done; else slacken off and begin at the first stage.
// When it may be left: when the controller settles it with a reason.
import { questionId } from '../facts/answers.ts';
import type { Fact } from '../facts/fact.ts';
import type { StageRecord } from '../state/asks/stages.ts';
import type { Job } from '../state/job.ts';
import type { Progress } from '../state/progress.ts';
import { clock, titled, where, why } from '../words.ts';
import type { Check, Raised } from './check.ts';

export const stageOrder: Check = {
  rule: 'stage-order',
  run: (job) =>
    job.graph.nodes.flatMap(({ id }) => {
      const byStage = new Map<number, Raised[]>();
      for (const run of job.done.runs(id)) {
        for (const [stage, raised] of raisedIn(job, id, run)) {
          byStage.set(stage, [...(byStage.get(stage) ?? []), raised]);
        }
      }
      return [...byStage.values()].flatMap(
        (list) => list.find(({ cleared }) => cleared === undefined) ?? list[0] ?? [],
      );
    }),
};

function raisedIn(job: Job, node: number, run: Progress): ReadonlyMap<number, Raised> {
  const records = run.stages?.records ?? [];
  const raised = new Map<number, Raised>();
  const first = new Map<number, Fact>();
  for (const { stage, fact, whole } of records) {
    if (whole && !first.has(stage)) first.set(stage, fact);
  }
  for (const record of records) {
    if (record.stage < 2) continue;
    const known = raised.get(record.stage);
    if (known !== undefined && known.cleared === undefined) continue;
    const found = flagFor(job, node, run, record, first.get(record.stage - 1));
    if (found !== undefined) raised.set(record.stage, found);
  }
  return raised;
}

function flagFor(
  job: Job,
  node: number,
  run: Progress,
  { stage, fact }: StageRecord,
  below: Fact | undefined,
): Raised | undefined {
  const { step = '', position = null } = job.graph.nodes[node] ?? {};
  const inTime = below !== undefined && below.when <= fact.when;
  const together = below?.report.message === fact.report.message;
  if (inTime && (below.order < fact.order || together)) return undefined;
  const question =
    below && questionId(below.report.message, 'before-or-after', step, below.report.act.stage);
  const answer = question === undefined ? undefined : job.answers.get(question);
  const runs = job.done.runs(node);
  const again = runs[runs.indexOf(run) + 1]?.cycle.begunBy;
  const late = below !== undefined && !inTime;
  const asks = late && !below.report.timeSaid && answer?.value === undefined;
  const routine = (job.plan.stepById.get(step)?.weight ?? 'routine') === 'routine';
  const withdrawnBy =
    inTime || (late && !asks && routine)
      ? [below.report.message, ...(answer ? [answer.settledBy] : [])]
      : undefined;
  const at = where(job, position, fact.report.when);
  const lead = `Stage out of order: ${titled(job, step)}, stage ${stage}.`;
  const what = late
    ? `Stage ${stage - 1} is reported at ${clock(below.report.when)}, after it.`
    : `It is reported, and stage ${stage - 1} has no record before it.`;
  const remedy = asks
    ? `Say whether stage ${stage - 1} was done before or after.`
    : `Report stage ${stage - 1} with its time, or slacken off and begin at stage 1.`;
  const by = withdrawnBy ?? (again && [again.report.message]);
  return {
    step,
    position,
    part: String(stage),
    says: `${lead} ${what}${why(job, step)} ${at} ${remedy}`,
    raisedBy: [fact.report.message],
    coveredFrom: fact.posted,
    override: late && !asks ? 'settled' : 'overridden',
    ...(by !== undefined && {
      cleared: {
        by: [...new Set(by)],
        how: withdrawnBy ? ('withdrawn' as const) : ('settled' as const),
      },
    }),
    wants:
      asks && question !== undefined
        ? [
            {
              question,
              message: below.report.message,
              about: 'before-or-after',
              asks: `Was stage ${stage - 1} of ${titled(job, step)} done before or after stage ${stage} (${clock(fact.report.when)})?`,
              choices: [
                { says: 'Before', value: 'before' },
                { says: 'After', value: 'after' },
              ],
            },
          ]
        : [],
  };
}
