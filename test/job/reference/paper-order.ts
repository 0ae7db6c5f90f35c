// Order on paper: a step reported before one that it needs, or past a hold point.
import type { JobEvent } from '../../../shared/event.ts';
import type { Level, Step } from '../../../shared/plan.ts';
import { allBefore, type Box, boxName, type Paper } from './job-on-paper.ts';
import { holdIsReleased, releasedLater } from './paper-holds.ts';
import { doneFrom, type Runs, saidAt } from './paper-steps.ts';
import { endOf, type Statement } from './what-was-said.ts';

export type PaperJob = {
  readonly paper: Paper;
  readonly events: readonly JobEvent[];
  readonly all: readonly Statement[];
  readonly runs: Runs;
};
export type Raise = (rule: string, step: Step, position: string | null, always?: Level) => void;

/** A step was reported while one that it needs had no record of being done by then. */
export function skipped(job: PaperJob, one: Statement, box: Box, raise: Raise): void {
  const { paper, runs } = job;
  for (const needed of allBefore(paper, box)) {
    if (saidAt(paper, runs, needed, endOf(one.when))) continue;
    if (properlyDoneAgain(job, one, box, needed)) continue;
    // Routine work that is known to have been done afterwards is a remark in the record.
    const routine = (needed.step.weight ?? 'routine') === 'routine';
    const later = (runs.get(boxName(needed)) ?? []).find(
      (run) => (doneFrom(paper, runs, run) ?? Number.NEGATIVE_INFINITY) > endOf(one.when),
    );
    const told = later?.said.find((other) => other.when === doneFrom(paper, runs, later));
    if (!(routine && told?.timeSaid)) raise('skipped', needed.step, needed.position);
  }
}

/** The later step was done again, with the one it needs done by then. */
function properlyDoneAgain(job: PaperJob, one: Statement, box: Box, needed: Box): boolean {
  const { paper, runs } = job;
  const own = runs.get(boxName(box)) ?? [];
  const after = own.slice(own.findIndex((run) => run.said.includes(one)) + 1);
  return after.some((run) => {
    const first = run.said[0];
    return (
      first !== undefined &&
      doneFrom(paper, runs, run) !== undefined &&
      saidAt(paper, runs, needed, endOf(first.when)) !== undefined
    );
  });
}

/** Work went on past a hold point that was not released then, nor has been since. */
export function pastHolds(job: PaperJob, one: Statement, box: Box, raise: Raise): void {
  for (const needed of allBefore(job.paper, box)) {
    if (!needed.step.hold || holdIsReleased(job, needed, endOf(one.when))) continue;
    if (!releasedLater(job, needed, one.when)) {
      raise('not-released', needed.step, needed.position, 'stop');
    }
  }
}
