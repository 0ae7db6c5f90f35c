// What only one may do at a time, of all threads and all processes: whoever comes second waits.
import type { SharedStore } from '../store/job-store.ts';
import type { Queues } from './queues.ts';

/** Runs the work once nobody else is at what goes by this name. Not to be asked for again within it. */
export type OneAtATime = <T>(name: string, work: () => Promise<T>) => Promise<T>;

/** Seconds after which whoever died in the middle of it holds nobody up. */
const LEASE_SECONDS = 30;
const LOOK_AGAIN_MILLISECONDS = 40;

const pause = (): Promise<void> => new Promise((done) => setTimeout(done, LOOK_AGAIN_MILLISECONDS));

export const oneAtATime =
  (lanes: Queues, shared: Pick<SharedStore, 'lease' | 'release'> | undefined): OneAtATime =>
  (name, work) => {
    const key = `only:${name}`;
    return lanes.run(key, async () => {
      if (shared === undefined) return work();
      while (!(await shared.lease(key, LEASE_SECONDS))) await pause();
      try {
        return await work();
      } finally {
        await shared.release(key);
      }
    });
  };
