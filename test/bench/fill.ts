// Fills a store with jobs in the middle of their life, without syncs: only what comes after is measured.
import type { JobEvent } from '../../shared/event.ts';
import { diskFiles, type FileSeam } from '../../src/store/file-seam.ts';
import { jobFileStore } from '../../src/store/job-file-store.ts';
import type { ThreadRef } from '../../src/store/job-store.ts';
import { at, indexOf, jobOpened, posted } from '../store/sample.ts';

export const jobName = (n: number): string => String(10_000 + n);

const unsynced: FileSeam = {
  ...diskFiles,
  open: async (path, how) => {
    const file = await diskFiles.open(path, how);
    return { ...file, sync: async () => undefined, dataSync: async () => undefined };
  },
  syncFolder: async () => undefined,
};

export type Filling = {
  readonly jobs: number;
  /** So many of them are open. */
  readonly open: number;
  readonly messages: number;
  readonly planText: string;
  readonly plan: string;
  readonly readOf: (n: number) => JobEvent;
  readonly threadOf: (n: number) => ThreadRef;
};

/** @param folder the store's own */
export const fillStore = async (folder: string, filling: Filling): Promise<void> => {
  const store = jobFileStore(folder, { clock: () => at(0), files: unsynced });
  await store.open();
  const one = async (n: number): Promise<void> => {
    const job = jobName(n);
    const opened = jobOpened(job);
    const events: JobEvent[] = [
      opened.kind === 'job-opened'
        ? {
            ...opened,
            vehicle: { name: `Bus ${n}` },
            plan: { ...opened.plan, id: filling.plan, text: filling.planText },
          }
        : opened,
    ];
    for (let m = 0; m < filling.messages; m++) events.push(posted(m), filling.readOf(m));
    const threads = [filling.threadOf(n)];
    const status = n < filling.open ? 'open' : 'closed';
    await store.append({
      ...{ job, expected: 0, events, threads },
      index: indexOf(job, { status, plan: filling.plan, vehicle: `Bus ${n}`, threads }),
    });
  };
  for (let n = 0; n < filling.jobs; n += 20)
    await Promise.all(Array.from({ length: Math.min(20, filling.jobs - n) }, (_, i) => one(n + i)));
  await store.close();
};
