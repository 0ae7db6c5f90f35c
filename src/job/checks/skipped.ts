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
  /** The report by which the step was later done again in order. */
  readonly again: Fact | undefined;
};

/** What the reports that need one step come to: the first of each kind is enough to say it. */
type Tally = {
  first: Raise;
  standing: Raise | undefined;
  missing: Raise | undefined;
  /** Late reports without a time, by message, with the first report that needed each. */
  asked: Map<string, { late: Fact; needing: Fact }>;
  onlyAfterwards: boolean;
};

export const skipped: Check = {
  rule: 'skipped',
  run: (job) => {
    const tallies = new Map<number, Tally>();
    eachUse(job, (use) => {
      let fine = true;
      for (const needed of job.graph.ancestors(use.node)) {
        if ((job.graph.nodes[needed]?.since ?? 0) > use.fact.when) continue;
        const tally = tallies.get(needed);
        if (tally?.missing === undefined) {
          const outcome = outcomeOf(job, needed, use.fact);
          if (outcome.is === 'fine') continue;
          const again = doneAgainProperly(job, use.node, needed, use.fact);
          tallies.set(needed, count(job, needed, tally, { use, outcome, again }));
        }
        fine = false;
      }
      return fine;
    });
    return [...tallies].sort(([a], [b]) => a - b).map(([node, tally]) => flagOf(job, node, tally));
  },
};

function count(job: Job, node: number, known: Tally | undefined, raise: Raise): Tally {
  const tally = known ?? {
    first: raise,
    standing: undefined,
    missing: undefined,
    asked: new Map(),
    onlyAfterwards: true,
  };
  if (!stands(job, node, raise)) return tally;
  const { outcome, use } = raise;
  tally.standing ??= raise;
  if (outcome.is === 'missing') tally.missing ??= raise;
  if (outcome.is === 'asked' && !tally.asked.has(outcome.by.report.message)) {
    tally.asked.set(outcome.by.report.message, { late: outcome.by, needing: use.fact });
  }
  if (outcome.is !== 'afterwards') tally.onlyAfterwards = false;
  return tally;
}

const stands = (job: Job, node: number, { outcome, again }: Raise): boolean => {
  if (again !== undefined || outcome.is === 'told-late') return false;
  if (outcome.is !== 'afterwards') return true;
  // A routine step that came a little late is only worth a remark in the record.
  const weight = job.plan.stepById.get(job.graph.nodes[node]?.step ?? '')?.weight;
  return weight !== undefined && weight !== 'routine';
};

function flagOf(job: Job, node: number, tally: Tally): Raised {
  const { step = '', position = null } = job.graph.nodes[node] ?? {};
  const raise = tally.missing ?? tally.standing ?? tally.first;
  const { use } = raise;
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
    override: tally.onlyAfterwards ? 'settled' : 'overridden',
    ...(tally.standing === undefined && { cleared: clearedBy(job, raise) }),
    wants: [...tally.asked.values()].map(({ late, needing }) =>
      askBeforeOrAfter(job, late, needing),
    ),
  };
}

function clearedBy(job: Job, { outcome, use, again }: Raise): NonNullable<Raised['cleared']> {
  if (again !== undefined) return { by: [again.report.message], how: 'settled' };
  if (outcome.is === 'told-late') {
    return { by: withdrawnBy(job, outcome.run, use.fact), how: 'withdrawn' };
  }
  return { by: outcome.is === 'missing' ? [] : [outcome.by.report.message], how: 'withdrawn' };
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
