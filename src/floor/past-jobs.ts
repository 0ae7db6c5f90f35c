// Jobs that are over, loaded only where a question asks for them: those of a vehicle, or those closed since a time.
import type { PastJob } from '../desk/answers/history.ts';
import type { Needs } from '../desk/asking/answer-asked.ts';
import { isVehicle } from '../desk/asking/asked.ts';
import type { JobView } from '../job/view.ts';
import type { IndexEntry } from '../store/job-store.ts';

/** Jobs loaded for one question; the newest. */
const MOST = 60;

export const pastJobsFor = async (
  index: Iterable<IndexEntry>,
  needs: Needs,
  viewsOf: (entries: readonly IndexEntry[]) => Promise<readonly JobView[]>,
): Promise<readonly PastJob[]> => {
  if (needs === 'open-jobs') return [];
  const { vehicle, since } = needs;
  if (vehicle === undefined && since === undefined) return [];
  const wanted = [...index]
    .filter(
      (entry) =>
        entry.status !== 'open' &&
        entry.closedAt !== undefined &&
        (vehicle === undefined || isVehicle(entry.vehicle, vehicle)) &&
        (since === undefined || Date.parse(entry.closedAt) >= Date.parse(since)),
    )
    .sort((a, b) => Date.parse(b.closedAt ?? '') - Date.parse(a.closedAt ?? ''))
    .slice(0, MOST);
  const closed = new Map(wanted.map(({ job, closedAt }) => [job, closedAt ?? '']));
  return (await viewsOf(wanted)).map((view) => ({ view, closedAt: closed.get(view.job) ?? '' }));
};
