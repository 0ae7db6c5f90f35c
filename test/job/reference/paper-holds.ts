// Whether a hold point is released at a moment.
import type { JobEvent } from '../../../shared/event.ts';
import { type Box, boxName, type Paper } from './job-on-paper.ts';
import { doneAt, type Runs, reworked } from './paper-steps.ts';

/**
 * Released once the step was done, and by nobody who did it. The last word counts; doing the step or the work directly
 * under it again withdraws it.
 */
export function holdIsReleased(
  { paper, events, runs }: { paper: Paper; events: readonly JobEvent[]; runs: Runs },
  box: Box,
  until: number,
): boolean {
  const hands = (runs.get(boxName(box)) ?? [])
    .flatMap((run) => run.said)
    .flatMap((one) => [one.worker, one.reporter]);
  let releasedAt: number | undefined;
  for (const event of events) {
    if (event.kind !== 'hold-released' && event.kind !== 'hold-refused') continue;
    if (event.step !== box.step.id || event.position !== box.position) continue;
    const when = Date.parse(event.at);
    if (when > until || hands.includes(event.by)) continue;
    if (event.kind === 'hold-refused') releasedAt = undefined;
    else if (doneAt(paper, runs, box, when)) releasedAt = when;
  }
  return releasedAt !== undefined && !reworked(paper, runs, box, releasedAt, until);
}
