// What the closed jobs on a plan tell of its pace, for the forecast: each looked at once, the latest of each plan kept.

import type { Settings } from '../../shared/settings.ts';
import { type PastJobs, pastPaceOf } from '../desk/forecast/forecast.ts';
import type { JobView } from '../job/view.ts';
import type { IndexEntry } from '../store/job-store.ts';
import type { PastPace } from '../trade/forecast/pace.ts';

/** Past jobs of a plan that are looked at; older ones say less of how the workshop works now. */
const MOST = 20;

type Parts = {
  readonly index: () => Iterable<IndexEntry>;
  readonly viewsOf: (entries: readonly IndexEntry[]) => Promise<readonly JobView[]>;
  readonly settings: Settings;
};

export const pastPaces = ({ index, viewsOf, settings }: Parts) => {
  /** By job and the time it was closed, since a job that is opened again and closed tells something else. */
  const known = new Map<string, PastPace | undefined>();
  const keyOf = ({ job, closedAt }: IndexEntry): string => `${job}|${closedAt ?? ''}`;

  /** @param plans names of plans @returns the paces of their closed jobs, the oldest first */
  return async (plans: ReadonlySet<string>): Promise<PastJobs> => {
    const closed = [...index()]
      .filter(({ status, plan, closedAt }) => status === 'closed' && closedAt && plans.has(plan))
      .sort((a, b) => Date.parse(b.closedAt ?? '') - Date.parse(a.closedAt ?? ''));
    const found = new Map<string, PastPace[]>();
    for (const plan of plans) {
      const latest = closed.filter((entry) => entry.plan === plan).slice(0, MOST);
      const paces: PastPace[] = [];
      for (const entry of latest.reverse()) {
        const key = keyOf(entry);
        if (!known.has(key)) {
          const [view] = await viewsOf([entry]);
          known.set(key, view && pastPaceOf(view, settings));
        }
        const pace = known.get(key);
        if (pace) paces.push(pace);
      }
      found.set(plan, paces);
    }
    return found;
  };
};
