// How urgent an open job is, and the time its plan expects.
import type { JobView } from '../../job/view.ts';
import { waitsOf } from '../waits.ts';
import { flagsStanding } from './where.ts';

/** Smaller is more urgent: a stop, then late, then a caution, then waiting, then by promised time. */
export const urgency = (view: JobView, now: string): readonly [number, number] => {
  const flags = flagsStanding(view);
  const due = view.promised ? Date.parse(view.promised) : Number.POSITIVE_INFINITY;
  const rank = flags.some((flag) => flag.level === 'stop')
    ? 0
    : due < Date.parse(now)
      ? 1
      : flags.length > 0
        ? 2
        : waitsOf(view, now, 'utc').length > 0
          ? 3
          : 4;
  return [rank, due];
};

export const byUrgency = (views: readonly JobView[], now: string): readonly JobView[] =>
  [...views].sort((a, b) => {
    const [rankA, dueA] = urgency(a, now);
    const [rankB, dueB] = urgency(b, now);
    return rankA - rankB || (dueA === dueB ? 0 : dueA - dueB) || (a.job < b.job ? -1 : 1);
  });

/** Hands-on minutes the plan expects for the positions on this job: (best + 4 likely + worst) / 6 for each step. */
export const plannedMinutes = (view: JobView): number =>
  view.steps
    .filter((progress) => progress.state !== 'not-on-job')
    .map((progress) => view.plan.stepById.get(progress.step)?.time)
    .reduce((sum, time) => sum + (time ? (time.best + 4 * time.likely + time.worst) / 6 : 0), 0);
