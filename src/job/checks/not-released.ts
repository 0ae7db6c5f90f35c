// Means: work went on past a hold point that nobody had released.
// Why it matters: a hold point is where a second person looks before a mistake is covered up or somebody can be hurt.
// What to do: stop here, and have the hold point looked at and released or refused.
// When it may be left: when the controller overrides it with a reason, such as in a workshop of one person.
import type { Job } from '../state/job.ts';
import { listed, placed, titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';
import { eachUse, type Use } from './order.ts';

/** What went past one hold point: the first, and the first since the work under it was last done again. */
type Past = {
  readonly first: Use;
  standing: { readonly use: Use; readonly redone: number } | undefined;
};

export const notReleased: Check = {
  rule: 'not-released',
  run: (job) => {
    const past = new Map<number, Past>();
    const holds = new Set(job.graph.nodes.map(({ id }) => id).filter(job.holds.isHold));
    if (holds.size === 0) return [];
    eachUse(job, (use) => {
      let fine = true;
      for (const hold of job.graph.ancestors(use.node)) {
        if (!holds.has(hold) || (job.graph.nodes[hold]?.since ?? 0) > use.fact.when) continue;
        if (job.holds.releasedAt(hold, use.fact.when)) continue;
        fine = false;
        const known = past.get(hold) ?? { first: use, standing: undefined };
        past.set(hold, known);
        if (job.holds.releasedAfter(hold, use.fact.when) !== undefined) continue;
        const redone = job.holds.lastRedone(hold, use.fact.when);
        if (known.standing === undefined || redone > known.standing.redone) {
          known.standing = { use, redone };
        }
      }
      return fine;
    });
    return [...past]
      .sort(([a], [b]) => a - b)
      .flatMap(([hold, uses]) => flagOf(job, hold, uses) ?? []);
  },
};

function flagOf(job: Job, hold: number, { first, standing }: Past): Raised | undefined {
  const own = job.graph.nodes[hold];
  const use = standing?.use ?? first;
  if (own === undefined) return undefined;
  const { report } = use.fact;
  const release = job.holds.releasedAfter(hold, use.fact.when);
  const step = job.plan.stepById.get(own.step);
  const who = listed(step?.hold?.release ?? []).replaceAll(' and ', ' or ');
  const reason = step?.hold?.why === undefined ? '' : ` ${step.hold.why}`;
  const later = placed(
    job,
    report.act.step ?? '',
    own.position === null ? (job.graph.nodes[use.node]?.position ?? null) : null,
  );
  return {
    step: own.step,
    position: own.position,
    part: null,
    says: `Not released: ${titled(job, own.step)}. ${later} is reported, and nobody goes past this hold point before it is released.${reason} ${where(job, own.position, report.when)} Stop here until the ${who} has looked at it and released it.`,
    raisedBy: [report.message],
    coveredFrom: standing?.redone ?? -Infinity,
    ...(standing === undefined &&
      release !== undefined && { cleared: { by: [release.event.id], how: 'settled' as const } }),
  };
}
