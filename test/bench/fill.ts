// Fills a store with jobs in the middle of their life, without syncs: only what comes after is measured.
import type { JobEvent } from '../../shared/event.ts';
import { diskFiles, type FileSeam } from '../../src/store/file-seam.ts';
import { jobFileStore } from '../../src/store/job-file-store.ts';
import type { PostRef, ThreadRef } from '../../src/store/job-store.ts';
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
  /** When the jobs were opened, milliseconds since 1970; the morning of the samples when left out. */
  readonly begin?: number;
  /** Cards that were posted before, such as the job sheets. */
  readonly postsOf?: (n: number) => readonly PostRef[];
};

/** @param folder the store's own */
export const fillStore = async (folder: string, filling: Filling): Promise<void> => {
  const store = jobFileStore(folder, { clock: () => at(0), files: unsynced });
  await store.open();
  const later = filling.begin === undefined ? 0 : filling.begin - Date.parse(at(0));
  const moved = (iso: string): string => new Date(Date.parse(iso) + later).toISOString();
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
      ...{ job, expected: 0, threads },
      events: events.map((event) => ({ ...event, at: moved(event.at) })),
      index: indexOf(job, {
        ...{ status, plan: filling.plan, vehicle: `Bus ${n}`, threads, openedAt: moved(at(0)) },
      }),
    });
    for (const ref of filling.postsOf?.(n) ?? []) await store.settlePost(job, ref.key, ref);
  };
  for (let n = 0; n < filling.jobs; n += 20)
    await Promise.all(Array.from({ length: Math.min(20, filling.jobs - n) }, (_, i) => one(n + i)));
  await store.close();
};
