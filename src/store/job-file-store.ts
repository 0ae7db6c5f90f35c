// The store of one machine: a folder with one file for each job, an inbox, an index and the kept files.
import { randomBytes } from 'node:crypto';
import { join } from 'node:path';
import type { Carry } from './carry.ts';
import { folderCarry } from './carry-folder.ts';
import { type ChainCheck, verifyChain } from './chain.ts';
import type { WhichTexts } from './chain-removal.ts';
import { fileNameOf } from './file-name.ts';
import { diskFiles, type FileSeam } from './file-seam.ts';
import { type Processes, thisMachine } from './folder-lock.ts';
import { fingerprint } from './inbox-lines.ts';
import { appended, shownJob, withPostKept, withPostSettled } from './job-change.ts';
import type { JobData } from './job-form.ts';
import { jobQueues } from './job-queues.ts';
import type { JobStore, OutboxEntry, SetAside } from './job-store.ts';
import { keepFile, readKeptFile } from './kept-files.ts';
import { type OpenStore, openStore } from './open-store.ts';
import { withoutPersonIn, withoutTextsIn } from './removal.ts';
import { setAside } from './set-aside.ts';
import { diskTrouble, StoreTrouble } from './store-trouble.ts';
import { jobMissing, teller } from './teller.ts';

export type JobFileStoreOptions = {
  /** The time now, ISO 8601; used for the lock and for naming what is set aside. */
  readonly clock: () => string;
  /** At least 16 random bytes as hex, new with each call. */
  readonly salt?: () => string;
  readonly files?: FileSeam;
  readonly machine?: Processes;
  /** Told of each trouble as it begins, also of those that a caller gets thrown; a controller should see them. */
  readonly onTrouble?: (trouble: StoreTrouble) => void;
};

export type JobFileStore = JobStore & {
  /** Removes the picked words of a job; facts, names and the chain stay. Resolves to the number of events changed. */
  readonly removeTexts: (job: string, which: WhichTexts) => Promise<number>;
  /**
   * Removes a person from all jobs: the names become "removed person 2", texts that mention one of them go. Facts and
   * the chain stay, and who did what stays told apart within a job. Resolves to the number of jobs changed. Kept
   * photos, backups and what was set aside are not searched.
   */
  readonly removePerson: (names: readonly string[]) => Promise<number>;
  /** Follows a job's chain on the disk; undefined where there is no such job. */
  readonly verify: (job: string) => Promise<ChainCheck | undefined>;
  /** What is given and taken when everything is carried to another store. */
  readonly carry: Carry;
};

/**
 * A store in a folder. Nothing is read or written before `open`.
 * All its functions throw StoreTrouble, saying what, where and what to do, where the disk refuses or a file is damaged.
 */
export function jobFileStore(folder: string, options: JobFileStoreOptions): JobFileStore {
  const files = options.files ?? diskFiles;
  const salt = options.salt ?? (() => randomBytes(16).toString('hex'));
  const machine = options.machine ?? thisMachine;
  const { clock } = options;
  const queues = jobQueues();
  const told = teller((trouble) => options.onTrouble?.(trouble));
  const { tell, telling } = told;
  let counter = 0;
  let open: OpenStore | undefined;

  const next = (): number => {
    counter += 1;
    return counter;
  };

  const opened = (): OpenStore => {
    if (open !== undefined) return open;
    throw new StoreTrouble('closed', 'The store is not open:', folder, 'Open it first.');
  };

  /** The job on the disk, inside its queue. A damaged file is set aside, and its job is lost until put back. */
  const read = async (store: OpenStore, job: string): Promise<JobData | undefined> => {
    const lost = store.lost.get(job);
    if (lost !== undefined) throw lost;
    try {
      const data = await store.jobs.get(job);
      if (data === undefined && store.index.entry(job) !== undefined) {
        await files.facts(join(folder, 'jobs'));
        throw jobMissing(job, store.jobs.pathOf(job));
      }
      return data;
    } catch (error) {
      if (error instanceof StoreTrouble && error.kind === 'damaged') {
        const path = store.jobs.pathOf(job);
        const aside = await setAside(files, folder, path, error.what, options.clock());
        store.lost.set(job, jobMissing(job, path));
        throw new StoreTrouble(
          'damaged',
          error.what,
          `job ${job}, now ${aside.movedTo}`,
          error.todo,
          error,
        );
      }
      throw diskTrouble(error, 'Reading', store.jobs.pathOf(job));
    }
  };

  const write = async (store: OpenStore, data: JobData): Promise<void> => {
    await store.jobs.put(data);
    if (data.outbox.length > 0) store.outbox.set(data.job, data.outbox);
    else store.outbox.delete(data.job);
    store.index.put(data.index);
    store.awake.wrote(data.job);
  };

  /** Changes a job's file inside its queue; nothing is written where `make` gives the same back. */
  const change = (job: string, make: (old: JobData) => JobData): Promise<boolean> =>
    telling(
      () =>
        queues.run(job, async () => {
          const store = opened();
          const old = await read(store, job);
          if (old === undefined) return false;
          const data = make(old);
          if (data === old) return false;
          await write(store, data);
          return true;
        }),
      true,
    );

  const openFolder = async (): Promise<{ readonly setAside: readonly SetAside[] }> => {
    if (open !== undefined) return { setAside: [] };
    const found = await openStore({ files, folder, clock, salt, machine, queues, teller: told });
    open = found.store;
    for (const q of [...open.outbox.values()].flat()) {
      counter = Math.max(counter, q.order);
    }
    return { setAside: found.setAside };
  };

  const close = async (): Promise<void> => {
    if (open === undefined) return;
    const store = open;
    await queues.idle();
    open = undefined;
    try {
      await store.index.sync();
      store.awake.sleepNow();
      await store.inbox.rewrite();
    } catch (error) {
      // The next start looks at the jobs that are still marked as awake.
      if (error instanceof StoreTrouble) tell(error);
    }
    await store.inbox.close();
    await store.index.close();
    await store.marks.close();
    await store.lock.release().catch((error: unknown) => {
      if (error instanceof StoreTrouble) tell(error);
    });
  };

  const append: JobStore['append'] = (given) =>
    telling(
      () =>
        queues.run(given.job, async () => {
          const store = opened();
          const old = await read(store, given.job);
          const version = old?.events.length ?? 0;
          const { settles } = given;
          if (settles !== undefined && old?.settled.includes(fingerprint(settles))) {
            store.inbox.settledInJob(settles);
            return { ok: true, version };
          }
          if (given.expected !== version) return { ok: false, found: version };
          const data = appended(given, old, salt, next);
          await write(store, data);
          if (settles !== undefined) store.inbox.settledInJob(settles);
          return { ok: true, version: data.events.length };
        }),
      true,
    );

  const outboxNow = (): readonly OutboxEntry[] => {
    const all = [...opened().outbox.values()].flat();
    all.sort(
      (a, b) => Number(b.entry.post.urgent) - Number(a.entry.post.urgent) || a.order - b.order,
    );
    return all.map((q) => q.entry);
  };

  return {
    carry: folderCarry({
      files,
      folder,
      opened,
      read: (job) => queues.run(job, () => read(opened(), job)),
      write: (data) => queues.run(data.job, () => write(opened(), data)),
    }),
    open: openFolder,
    close,
    accept: (delivery, acceptedAt) =>
      telling(async () => opened().inbox.accept(delivery, acceptedAt), true),
    waiting: async () => opened().inbox.waiting(),
    settle: (id) => telling(async () => opened().inbox.settle(id), true),
    load: (job) =>
      telling(async () => {
        const quick = opened().jobs.inMemory(job);
        if (quick !== undefined) return shownJob(quick);
        const data = await queues.run(job, () => read(opened(), job));
        return data === undefined ? undefined : shownJob(data);
      }, false),
    append,
    list: async () => opened().index.list(),
    jobOfThread: async (channel, team, place, thread) =>
      opened().index.jobOfThread({ channel, team, place, thread }),
    outbox: async () => outboxNow(),
    settlePost: async (job, id, ref, posted) => {
      await change(job, (old) => withPostSettled(old, id, ref, posted));
    },
    keepPost: async (job, id, to) => {
      await change(job, (old) => withPostKept(old, id, to));
    },
    mark: async (name) => opened().marks.get(name),
    setMark: (name, value) => telling(() => opened().marks.set(name, value), true),
    keepFile: (job, sha256, type, bytes) =>
      telling(() => {
        opened();
        return keepFile(files, join(folder, 'files'), job, sha256, type, bytes);
      }, true),
    readFile: (job, name) =>
      telling(() => {
        opened();
        return readKeptFile(files, join(folder, 'files'), job, name);
      }, false),
    removeTexts: async (job, which) => {
      let count = 0;
      await change(job, (old) => {
        const done = withoutTextsIn(old, which);
        count = done.events.filter((e, i) => e !== old.events[i]).length;
        return done;
      });
      // What is settled goes from the inbox too, for it holds the same words.
      if (count > 0) await opened().inbox.rewrite();
      return count;
    },
    removePerson: async (names) => {
      let count = 0;
      for (const { job } of opened().index.list()) {
        if (opened().lost.has(job)) continue;
        if (await change(job, (old) => withoutPersonIn(old, names))) count += 1;
      }
      // Older lines of these files still hold the names.
      await opened().index.rewrite();
      await opened().inbox.rewrite();
      await opened().marks.rewrite();
      return count;
    },
    verify: (job) =>
      telling(
        () =>
          queues.run(job, async () => {
            const data = await opened().jobs.read(`${fileNameOf(job)}.json`);
            return data === undefined ? undefined : verifyChain(data.events);
          }),
        false,
      ),
  };
}
