// Whether a hold point is released at a moment.
import type { JobEvent } from '../../../shared/event.ts';
import { type Box, boxName, type Paper } from './job-on-paper.ts';
import { doneAt, type Runs, reworked } from './paper-steps.ts';

/** Whether somebody who may do so released it after a moment. */
export function releasedLater(job: Held, box: Box, after: number): boolean {
  return job.events.some((event) => {
    const when = Date.parse(event.at);
    return (
      event.kind === 'hold-released' && when > after && holdIsReleased(job, box, when, event.id)
    );
  });
}

type Held = { readonly paper: Paper; readonly events: readonly JobEvent[]; readonly runs: Runs };

/**
 * Released once the step was done, and by nobody who did it. The last word counts; doing the step or the work directly
 * under it again withdraws it.
 */
export function holdIsReleased(
  { paper, events, runs }: Held,
  box: Box,
  until: number,
  by?: string,
): boolean {
  const hands = (runs.get(boxName(box)) ?? [])
    .flatMap((run) => run.said)
    .flatMap((one) => [one.worker, one.reporter]);
  let releasedAt: number | undefined;
  let last: string | undefined;
  for (const event of events) {
    if (event.kind !== 'hold-released' && event.kind !== 'hold-refused') continue;
    if (event.step !== box.step.id || event.position !== box.position) continue;
    const when = Date.parse(event.at);
    if (when > until || hands.includes(event.by)) continue;
    if (event.kind === 'hold-refused') releasedAt = undefined;
    else if (doneAt(paper, runs, box, when)) {
      releasedAt = when;
      last = event.id;
    }
  }
  if (by !== undefined && by !== last) return false;
  return releasedAt !== undefined && !reworked(paper, runs, box, releasedAt, until);
}
