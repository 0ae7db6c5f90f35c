// Means: a re-check or follow-up was not done within the time or distance after the step it belongs to.
// Why it matters: fasteners settle; what is not tightened again in time comes loose on the road.
// What to do: do it now and report it; where the vehicle has left, have it brought in.
// When it may be left: when the controller overrides it with a reason, such as the check done elsewhere.
import type { Step } from '../../../shared/plan.ts';
import { inUnit } from '../facts/measure.ts';
import { inOffset, offsetMinutes } from '../facts/said-time.ts';
import { completedBy } from '../state/doneness.ts';
import type { Job } from '../state/job.ts';
import { clock, placed, titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';

const MINUTE = 60_000;

export const overdue: Check = {
  rule: 'overdue',
  run: (job) =>
    job.graph.nodes.flatMap(({ id, onJob }) => {
      const step = job.plan.stepById.get(job.graph.nodes[id]?.step ?? '');
      return onJob && step?.within ? (flagOf(job, id, step, step.within) ?? []) : [];
    }),
};

function flagOf(
  job: Job,
  node: number,
  step: Step,
  within: NonNullable<Step['within']>,
): Raised | undefined {
  const runs = job.graph.beside(node, within.after).map((id) => job.done.latest(id));
  const last = runs
    .filter((run) => run?.doneAt !== undefined)
    .sort((a, b) => (a?.doneAt ?? 0) - (b?.doneAt ?? 0))
    .at(-1);
  const from = last && completedBy(last);
  const since = last?.doneAt;
  if (last === undefined || from === undefined || since === undefined) return undefined;
  if (runs.some((run) => run?.doneAt === undefined)) return undefined;
  const { position = null } = job.graph.nodes[node] ?? {};
  const own = job.done.latest(node);
  const doneAt = own?.doneAt;
  const claim = own?.claim;
  const due = within.minutes === undefined ? undefined : since + within.minutes * MINUTE;
  const lateByTime = due !== undefined && (doneAt ?? job.now) > due;
  const tooFar = within.km !== undefined && kilometres(job, node, doneAt) > within.km.max;
  if (!lateByTime && !tooFar) return undefined;
  const limit =
    lateByTime && due !== undefined
      ? `within ${within.minutes} min, until ${dayAndClock(inOffset(due, offsetMinutes(from.report.when)), from.report.when)}`
      : `within ${within.km?.max} km`;
  return {
    step: step.id,
    position,
    part: null,
    says: `Overdue: ${placed(job, step.id, null)}. It was due ${limit} after ${titled(job, within.after)}: ${within.because}. ${where(job, position, from.report.when)} Do it now and report it, or have the vehicle brought in.`,
    raisedBy: [from.report.message],
    coveredFrom: due ?? from.posted,
    ...(doneAt !== undefined &&
      claim !== undefined && { cleared: { by: [claim.report.message], how: 'settled' as const } }),
  };
}

/** The day is named only where it is another than that of the step. */
const dayAndClock = (iso: string, from: string): string =>
  iso.slice(0, 10) === from.slice(0, 10) ? clock(iso) : `${iso.slice(0, 10)} ${clock(iso)}`;

/** How far the vehicle has run since it left, as far as is known: said with the re-check, else by its meter. */
function kilometres(job: Job, node: number, doneAt: number | undefined): number {
  if (doneAt !== undefined) {
    const said = job.done
      .latest(node)
      ?.cycle.facts.map(({ report }) => report.act.quantity)
      .map((quantity) => quantity && inUnit(quantity.value, quantity.unit, 'km'))
      .find((value) => value !== undefined);
    return said ?? 0;
  }
  let left = job.opened.reading;
  for (const { event } of job.events) if (event.kind === 'job-closed') left = event.reading ?? left;
  const now = job.around.reading;
  if (left === undefined || now === undefined) return 0;
  const [at, was] = [inUnit(now.value, now.unit, 'km'), inUnit(left.value, left.unit, 'km')];
  return at === undefined || was === undefined ? 0 : at - was;
}
