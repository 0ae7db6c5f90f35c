// Means: a step was done again, and what it undoes, with all that rests on that, has to be done again.
// Why it matters: a joint that was opened again is not tight because it was tight before.
// What to do: do the steps named again in their order, and report each.
// When it may be left: when the controller overrides it with a reason, such as a joint that was not disturbed.
import type { Rework } from '../state/cycles.ts';
import type { Job } from '../state/job.ts';
import { listed, titled, where } from '../words.ts';
import { type Check, graver, levelOf, type Raised } from './check.ts';

export const redo: Check = {
  rule: 'redo',
  run: (job) => {
    const byNode = new Map<number, Rework[]>();
    for (const rework of job.reworks) {
      byNode.set(rework.node, [...(byNode.get(rework.node) ?? []), rework]);
    }
    return [...byNode].flatMap(([node, reworks]) => flagOf(job, node, reworks) ?? []);
  },
};

/** What a rework undid and nobody has done again since. A later rework that undid it too takes it over. */
const open = (job: Job, { fact, undone }: Rework): readonly number[] =>
  undone.filter((id) => {
    const run = job.done.latest(id);
    return run?.cycle.begunBy === fact && run.state !== 'done';
  });

function flagOf(job: Job, node: number, reworks: readonly Rework[]): Raised | undefined {
  const { step = '', position = null } = job.graph.nodes[node] ?? {};
  const rework = reworks.findLast((one) => open(job, one).length > 0) ?? reworks.at(-1);
  if (rework === undefined) return undefined;
  const { report, posted } = rework.fact;
  const standing = reworks.filter((one) => open(job, one).length > 0);
  // What an earlier rework of the step undid stays named until it is done again.
  const undone = [
    ...new Set((standing.length > 0 ? standing : [rework]).flatMap((one) => one.undone)),
  ].sort((a, b) => a - b);
  const done = rework.undone
    .map((id) => job.done.runs(id).find(({ cycle }) => cycle.begunBy === rework.fact)?.claim)
    .filter((fact) => fact !== undefined)
    .sort((a, b) => a.order - b.order)
    .at(-1);
  // The gravest step made due again decides: a routine cover lifted again may undo a safety-critical joint.
  const level = undone.reduce(
    (so, id) => graver(so, levelOf(job, 'redo', job.graph.nodes[id]?.step ?? null)),
    levelOf(job, 'redo', step),
  );
  const added = report.act.again !== true;
  const lead = added
    ? `${position ?? titled(job, step)} joined the job after these were done:`
    : 'It was done again, and these have to be done again:';
  return {
    step,
    position,
    part: null,
    level,
    says: `To do again: ${titled(job, step)}. ${lead} ${gathered(job, undone)}. ${where(job, position, report.when)} Do them again in their order, and report each.`,
    raisedBy: [report.message],
    coveredFrom: posted,
    ...(standing.length === 0 && {
      cleared: { by: [done?.report.message ?? report.message], how: 'settled' as const },
    }),
  };
}

/** Steps with their positions, each step named once. */
function gathered(job: Job, nodes: readonly number[]): string {
  const steps = new Map<string, string[]>();
  for (const id of nodes) {
    const node = job.graph.nodes[id];
    if (node === undefined) continue;
    const list = steps.get(node.step) ?? [];
    steps.set(node.step, node.position === null ? list : [...list, node.position]);
  }
  return listed(
    [...steps].map(([step, at]) =>
      at.length === 0 ? titled(job, step) : `${titled(job, step)} (${at.join(', ')})`,
    ),
  );
}
