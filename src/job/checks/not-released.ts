// Means: work went on past a hold point that nobody had released.
// Why it matters: a hold point is where a second person looks before a mistake is covered up or somebody can be hurt.
// What to do: stop here, and have the hold point looked at and released or refused.
// When it may be left: when the controller overrides it with a reason, such as in a workshop of one person.
import type { Job } from '../state/job.ts';
import { listed, placed, titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';
import { eachUse, type Use } from './order.ts';

export const notReleased: Check = {
  rule: 'not-released',
  run: (job) => {
    const raises = new Map<number, Use[]>();
    eachUse(job, (use) => {
      let fine = true;
      for (const hold of job.graph.ancestors(use.node)) {
        if (!job.holds.isHold(hold) || (job.graph.nodes[hold]?.since ?? 0) > use.fact.when)
          continue;
        if (job.holds.releasedAt(hold, use.fact.when)) continue;
        fine = false;
        const list = raises.get(hold);
        if (list === undefined) raises.set(hold, [use]);
        else list.push(use);
      }
      return fine;
    });
    return [...raises]
      .sort(([a], [b]) => a - b)
      .flatMap(([hold, list]) => flagOf(job, hold, list) ?? []);
  },
};

function flagOf(job: Job, hold: number, raises: readonly Use[]): Raised | undefined {
  const own = job.graph.nodes[hold];
  const releaseOf = ({ fact }: Use) => job.holds.releasedAfter(hold, fact.when);
  const redone = ({ fact }: Use): number => job.holds.lastRedone(hold, fact.when);
  const standing = raises.filter((use) => releaseOf(use) === undefined);
  const latest = Math.max(-Infinity, ...standing.map(redone));
  const use = standing.find((one) => redone(one) === latest) ?? raises[0];
  if (own === undefined || use === undefined) return undefined;
  const { report } = use.fact;
  const release = releaseOf(use);
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
    coveredFrom: latest,
    ...(standing.length === 0 &&
      release !== undefined && { cleared: { by: [release.event.id], how: 'settled' as const } }),
  };
}
