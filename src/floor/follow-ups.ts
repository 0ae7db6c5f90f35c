// Closed jobs with something still to come: their numbers are kept under one mark, so that a look at them opens no other.
import { followUpsOf } from '../desk/office/follow-ups.ts';
import type { JobView } from '../job/view.ts';
import type { JobStore } from '../store/job-store.ts';

const MARK = 'follow-ups';

export type FollowUps = {
  readonly jobs: () => readonly string[];
  /** Takes in how a job stands now. */
  readonly note: (view: JobView) => Promise<void>;
};

const read = (kept: string | undefined): readonly string[] => {
  const jobs: unknown = kept ? JSON.parse(kept) : [];
  return Array.isArray(jobs) ? jobs.filter((job) => typeof job === 'string') : [];
};

export const followUps = async (store: JobStore): Promise<FollowUps> => {
  const jobs = new Set(read(await store.mark(MARK)));
  return {
    jobs: () => [...jobs],
    note: async (view) => {
      const has = view.status === 'closed' && followUpsOf(view).length > 0;
      if (has === jobs.has(view.job)) return;
      if (has) jobs.add(view.job);
      else jobs.delete(view.job);
      await store.setMark(MARK, JSON.stringify([...jobs].sort()));
    },
  };
};
