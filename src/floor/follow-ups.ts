// Closed jobs with something still to come: their numbers are kept, so that a look at them opens no other. One process keeps
// them under one mark; where several share the store each is a paper of its own, so that none takes away another one's.
import { followUpsOf } from '../desk/office/follow-ups.ts';
import type { JobView } from '../job/view.ts';
import type { JobStore } from '../store/job-store.ts';
import type { SharedShelf } from '../store/shared-shelf.ts';

const MARK = 'follow-ups';
const PAPER = 'follow-up:';

export type FollowUps = {
  readonly jobs: () => readonly string[];
  /** Takes in how a job stands now. */
  readonly note: (view: JobView) => Promise<void>;
  /** Looks for what other processes noted. */
  readonly look: () => Promise<void>;
};

const read = (kept: string | undefined): readonly string[] => {
  const jobs: unknown = kept ? JSON.parse(kept) : [];
  return Array.isArray(jobs) ? jobs.filter((job) => typeof job === 'string') : [];
};

const isFollowed = (view: JobView): boolean =>
  view.status === 'closed' && followUpsOf(view).length > 0;

const onShelf = async (store: JobStore, shelf: SharedShelf): Promise<FollowUps> => {
  let jobs = new Set<string>();
  const look = async (): Promise<void> => {
    jobs = new Set((await shelf.papers(PAPER)).map(({ name }) => name.slice(PAPER.length)));
  };
  // What was carried over from a folder is under the mark.
  for (const job of read(await store.mark(MARK))) await shelf.writePaper(`${PAPER}${job}`, '{}', 0);
  await store.setMark(MARK, '[]');
  await look();
  return {
    jobs: () => [...jobs],
    look,
    note: async (view) => {
      const has = isFollowed(view);
      if (has === jobs.has(view.job)) return;
      if (has) {
        jobs.add(view.job);
        await shelf.writePaper(`${PAPER}${view.job}`, '{}', 0);
      } else {
        jobs.delete(view.job);
        await shelf.removePaper(`${PAPER}${view.job}`);
      }
    },
  };
};

export const followUps = async (store: JobStore): Promise<FollowUps> => {
  if (store.shared?.shelf) return onShelf(store, store.shared.shelf);
  const jobs = new Set(read(await store.mark(MARK)));
  return {
    jobs: () => [...jobs],
    look: async () => undefined,
    note: async (view) => {
      const has = isFollowed(view);
      if (has === jobs.has(view.job)) return;
      if (has) jobs.add(view.job);
      else jobs.delete(view.job);
      await store.setMark(MARK, JSON.stringify([...jobs].sort()));
    },
  };
};
