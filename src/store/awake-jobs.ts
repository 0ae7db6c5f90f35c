// Which jobs the next start after a crash has to look at, kept to a number that a start can read quickly.
import type { Inbox } from './inbox.ts';
import type { JobIndex } from './job-index.ts';
import type { JobQueues } from './job-queues.ts';
import { StoreTrouble } from './store-trouble.ts';
import type { Teller } from './teller.ts';

const MOST_AWAKE = 200;

export type AwakeJobs = {
  /** The job's file was just written; its index entry may not be on the disk yet. */
  readonly wrote: (job: string) => void;
  /** Puts all to sleep that may; the index has to be synced before. */
  readonly sleepNow: () => void;
};

/** @param waiting true for a job that has to stay awake: with posts still to be made, or not readable now. */
export function awakeJobs(
  inbox: Inbox,
  index: JobIndex,
  queues: JobQueues,
  waiting: (job: string) => boolean,
  { tell }: Teller,
): AwakeJobs {
  let changed = new Set<string>();
  let resting = false;

  const sleepers = (): readonly string[] =>
    [...inbox.awake()].filter((job) => !waiting(job) && !queues.busy(job));

  /** Jobs may sleep once the index on the disk says what their files say. */
  const rest = async (): Promise<void> => {
    const tired = sleepers().slice(0, MOST_AWAKE / 2);
    changed = new Set();
    if (tired.length === 0) return;
    await index.sync();
    for (const job of tired) {
      if (!changed.has(job) && !queues.busy(job) && !waiting(job)) inbox.sleep(job);
    }
  };

  return {
    wrote: (job) => {
      changed.add(job);
      if (resting || inbox.awake().size <= MOST_AWAKE) return;
      resting = true;
      rest()
        .catch((error: unknown) => {
          if (error instanceof StoreTrouble) tell(error);
        })
        .finally(() => {
          resting = false;
        });
    },
    sleepNow: () => {
      for (const job of sleepers()) inbox.sleep(job);
    },
  };
}
