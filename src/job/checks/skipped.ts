// Means: a step was reported while a step it needs, directly or through others, has no record.
// Why it matters: most of what goes wrong in a workshop is not done badly but left out, and the next step hides it.
// What to do: report the missing step with its figure and the time, or do it now before going on.
// When it may be left: when the controller releases it with a reason, or the step does not apply to this vehicle.
import type { Fact } from '../facts/fact.ts';
import type { Job } from '../state/job.ts';
import { clock, listed, placed, titled, where, why } from '../words.ts';
import type { Check, Raised } from './check.ts';
import {
  askBeforeOrAfter,
  doneAgainProperly,
  eachUse,
  type Outcome,
  outcomeOf,
  type Use,
  withdrawnBy,
} from './order.ts';

type Raise = {
  readonly use: Use;
  readonly outcome: Exclude<Outcome, { is: 'fine' }>;
  readonly again: Fact | undefined;
};

export const skipped: Check = {
  rule: 'skipped',
  run: (job) => {
    const raises = new Map<number, Raise[]>();
    eachUse(job, (use) => {
      let fine = true;
      for (const needed of job.graph.ancestors(use.node)) {
        if ((job.graph.nodes[needed]?.since ?? 0) > use.fact.when) continue;
        const outcome = outcomeOf(job, needed, use.fact);
        if (outcome.is === 'fine') continue;
        fine = false;
        const again = doneAgainProperly(job, use.node, needed, use.fact);
        const list = raises.get(needed);
        if (list === undefined) raises.set(needed, [{ use, outcome, again }]);
        else list.push({ use, outcome, again });
      }
      return fine;
    });
    return [...raises].sort(([a], [b]) => a - b).map(([node, list]) => flagOf(job, node, list));
  },
};

const stands = (job: Job, node: number, { outcome, again }: Raise): boolean => {
  if (again !== undefined || outcome.is === 'told-late') return false;
  if (outcome.is !== 'afterwards') return true;
  // A routine step that came a little late is only worth a remark in the record.
  const weight = job.plan.stepById.get(job.graph.nodes[node]?.step ?? '')?.weight;
  return weight !== undefined && weight !== 'routine';
};

function flagOf(job: Job, node: number, raises: readonly Raise[]): Raised {
  const { step = '', position = null } = job.graph.nodes[node] ?? {};
  const standing = raises.filter((raise) => stands(job, node, raise));
  const raise =
    standing.find(({ outcome }) => outcome.is === 'missing') ?? standing[0] ?? raises[0];
  if (raise === undefined) throw new Error(`A flag for "${step}" needs a report that raises it.`);
  const { outcome, use, again } = raise;
  const asked = standing.flatMap((one) => (one.outcome.is === 'asked' ? [one] : []));
  const undone = job.done
    .runs(node)
    .flatMap(({ cycle }) => (cycle.dueAgain && cycle.begunBy ? [cycle.begunBy.when] : []))
    .filter((at) => at <= use.fact.when);
  return {
    step,
    position,
    part: null,
    says: says(job, step, position, raise),
    raisedBy: [use.fact.report.message],
    coveredFrom: Math.max(-Infinity, ...undone),
    override: standing.every((one) => one.outcome.is === 'afterwards') ? 'settled' : 'overridden',
    ...(standing.length === 0 && {
      cleared: {
        by:
          outcome.is === 'told-late'
            ? withdrawnBy(job, outcome.run, use.fact)
            : [
                again?.report.message ??
                  (outcome.is === 'afterwards' ? outcome.by.report.message : ''),
              ],
        how: again === undefined ? ('withdrawn' as const) : ('settled' as const),
      },
    }),
    wants: asked.flatMap(({ outcome: late, use: { fact } }) =>
      late.is === 'asked' ? [askBeforeOrAfter(job, late.by, fact)] : [],
    ),
  };
}

function says(job: Job, step: string, position: string | null, raise: Raise): string {
  const { outcome, use } = raise;
  const { report } = use.fact;
  const later = placed(
    job,
    report.act.step ?? '',
    position === null ? (job.graph.nodes[use.node]?.position ?? null) : null,
  );
  const at = where(job, position, report.when);
  const reason = why(job, step);
  if (outcome.is === 'afterwards') {
    return `Done afterwards: ${titled(job, step)}, at ${clock(outcome.by.report.when)}. ${later} was reported first, and it needs that first.${reason} ${at} Ask the controller to settle it with a reason, or do ${titled(job, report.act.step ?? '')} again.`;
  }
  const lead = `Skipped: ${titled(job, step)}. ${later} is reported, and it needs that first`;
  if (outcome.is === 'told-late') {
    return `${lead}; that was told later.${reason} ${at} It was done before, at ${clock(outcome.run.claim?.report.when ?? '')}.`;
  }
  if (outcome.is === 'asked') {
    return `${lead}; its own report came at ${clock(outcome.by.report.posted)}.${reason} ${at} Say whether it was done before or after.`;
  }
  const left = outcome.run?.missing ?? [];
  const partly =
    left.length > 0 && outcome.run?.state === 'partial' ? `; still missing: ${listed(left)}` : '';
  const undone = outcome.run?.cycle.dueAgain
    ? `; it is due again since ${clock(outcome.run.cycle.begunBy?.report.when ?? '')}`
    : '';
  const wanted = (job.plan.stepById.get(step)?.report?.length ?? 0) > 0 ? ' with the figure' : '';
  return `${lead}${partly}${undone}.${reason} ${at} Report it now${wanted}, or ask the controller to release it with a reason.`;
}
