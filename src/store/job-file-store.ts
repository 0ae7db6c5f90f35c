// The store of one machine: a folder with one file for each job, an inbox, an index and the kept files.
import { randomBytes } from 'node:crypto';
import { join } from 'node:path';
import { type ChainCheck, verifyChain, type WhichTexts } from './chain.ts';
import { fileNameOf } from './file-name.ts';
import { diskFiles, type FileSeam } from './file-seam.ts';
import { type FolderLock, lockFolder, type Processes, thisMachine } from './folder-lock.ts';
import { fingerprint, type Inbox, openInbox } from './inbox.ts';
import { appended, withPostKept, withPostSettled } from './job-change.ts';
import { type JobFiles, jobFiles } from './job-files.ts';
import type { JobData, Queued } from './job-form.ts';
import { type JobIndex, openIndex } from './job-index.ts';
import { jobQueues } from './job-queues.ts';
import type { JobStore, OutboxEntry, SetAside, StoredJob } from './job-store.ts';
import { keepFile, readKeptFile } from './kept-files.ts';
import { type MarksFile, openMarks } from './marks.ts';
import { lookAtJobs } from './opening.ts';
import { withoutPersonIn, withoutTextsIn } from './removal.ts';
import { setAside, setLinesAside } from './set-aside.ts';
import { codeOf, diskTrouble, StoreTrouble } from './store-trouble.ts';

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
   * the chain stay, and who did what stays told apart within a job. Resolves to the number of jobs changed. Cards
   * still waiting to be posted, kept photos, backups and what was set aside are not searched.
   */
  readonly removePerson: (names: readonly string[]) => Promise<number>;
  /** Follows a job's chain on the disk; undefined where there is no such job. */
  readonly verify: (job: string) => Promise<ChainCheck | undefined>;
};

/** Left in a restored folder: the first start looks at every job. */
export const RESTORED_MARK = 'restored.mark';
/** So many jobs may be awake before those at rest are put to sleep; the next start after a crash looks at these. */
const MOST_AWAKE = 200;

type Open = {
  readonly lock: FolderLock;
  readonly inbox: Inbox;
  readonly index: JobIndex;
  readonly jobs: JobFiles;
  readonly marks: MarksFile;
  readonly outbox: Map<string, readonly Queued[]>;
  readonly lost: Set<string>;
};

/**
 * A store in a folder. Nothing is read or written before `open`.
 * All its functions throw StoreTrouble, saying what, where and what to do, where the disk refuses or a file is damaged.
 */
export function jobFileStore(folder: string, options: JobFileStoreOptions): JobFileStore {
  const files = options.files ?? diskFiles;
  const salt = options.salt ?? (() => randomBytes(16).toString('hex'));
  const queues = jobQueues();
  const handed = new Map<string, number>();
  let changed = new Set<string>();
  let resting = false;
  let counter = 0;
  let open: Open | undefined;
  let told = new Set<string>();

  const next = (): number => {
    counter += 1;
    return counter;
  };

  /** A full disk fails every message; it is told once, and again only after something worked. */
  const tell = (trouble: StoreTrouble): void => {
    const key = `${trouble.kind} ${trouble.where}`;
    if (told.has(key)) return;
    told.add(key);
    options.onTrouble?.(trouble);
  };

  const opened = (): Open => {
    if (open !== undefined) return open;
    throw new StoreTrouble('closed', 'The store is not open:', folder, 'Open it first.');
  };

  const telling = async <T>(work: () => Promise<T>, wrote: boolean): Promise<T> => {
    try {
      const result = await work();
      if (wrote && told.size > 0) told = new Set([...told].filter((k) => k.startsWith('clock')));
      return result;
    } catch (error) {
      if (error instanceof StoreTrouble && error.kind !== 'closed') tell(error);
      throw error;
    }
  };

  const missing = (job: string, path: string): StoreTrouble =>
    new StoreTrouble(
      'missing',
      `The file of job ${job} is not there; if it was damaged it is in set-aside:`,
      path,
      'Stop the program, put the file back from a backup and start again, or go on under another job number.',
    );

  const inboxGone = (path: string): StoreTrouble =>
    new StoreTrouble(
      'missing',
      'The file of messages waiting to be read was gone and was begun anew:',
      path,
      'Look whether messages of the last minutes before the stop are missing from their jobs, and post those again.',
    );

  /** The job on the disk, inside its queue. A damaged file is set aside, and its job is lost until put back. */
  const read = async (store: Open, job: string): Promise<JobData | undefined> => {
    if (store.lost.has(job)) throw missing(job, store.jobs.pathOf(job));
    try {
      const data = await store.jobs.get(job);
      if (data === undefined && store.index.entry(job) !== undefined) {
        await files.facts(join(folder, 'jobs'));
        throw missing(job, store.jobs.pathOf(job));
      }
      return data;
    } catch (error) {
      if (error instanceof StoreTrouble && error.kind === 'damaged') {
        const path = store.jobs.pathOf(job);
        const aside = await setAside(files, folder, path, error.what, options.clock());
        store.lost.add(job);
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

  const write = async (store: Open, data: JobData): Promise<void> => {
    await store.jobs.put(data);
    changed.add(data.job);
    if (data.outbox.length > 0) store.outbox.set(data.job, data.outbox);
    else store.outbox.delete(data.job);
    store.index.put(data.index);
    if (store.inbox.awake().size > MOST_AWAKE) void rest(store);
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

  const sleepers = (store: Open): readonly string[] =>
    [...store.inbox.awake()].filter((job) => !store.outbox.has(job) && !queues.busy(job));

  /** Jobs may sleep once the index on the disk says what their files say. */
  const rest = async (store: Open): Promise<void> => {
    if (resting) return;
    resting = true;
    try {
      const tired = sleepers(store).slice(0, MOST_AWAKE / 2);
      changed = new Set();
      if (tired.length === 0) return;
      await store.index.sync();
      for (const job of tired) {
        if (changed.has(job) || queues.busy(job) || store.outbox.has(job)) continue;
        store.inbox.sleep(job);
      }
    } catch (error) {
      if (error instanceof StoreTrouble) tell(error);
    } finally {
      resting = false;
    }
  };

  const openMarksOrAside = async (aside: SetAside[]): Promise<MarksFile> => {
    const path = join(folder, 'marks.json');
    try {
      return await openMarks(files, path);
    } catch (error) {
      if (!(error instanceof StoreTrouble) || error.kind !== 'damaged') throw error;
      aside.push(await setAside(files, folder, path, error.what, options.clock()));
      return openMarks(files, path);
    }
  };

  const openLocked = async (
    lock: FolderLock,
    begunFiles: { close: () => Promise<void> }[],
  ): Promise<readonly SetAside[]> => {
    const aside: SetAside[] = [];
    const restored = (await files.names(folder)).includes(RESTORED_MARK);
    const inboxPath = join(folder, 'inbox.jsonl');
    const begun = (await files.names(join(folder, 'jobs'))).length > 0;
    const { inbox, absent, damaged } = await openInbox(files, inboxPath, tell);
    begunFiles.push(inbox);
    if (damaged.length > 0) {
      aside.push(await setLinesAside(files, folder, inboxPath, damaged, options.clock()));
    }
    const { index, incomplete } = await openIndex(files, join(folder, 'index.jsonl'), tell);
    begunFiles.push(index);
    const jobs = jobFiles(files, join(folder, 'jobs'), salt, inbox.wake);
    const marks = await openMarksOrAside(aside);
    const all = restored || absent || incomplete || damaged.length > 0;
    const looked = await lookAtJobs({
      files,
      folder,
      jobs,
      index,
      inbox,
      all,
      restored,
      now: options.clock(),
    });
    const outbox = new Map(looked.outbox);
    for (const queue of outbox.values()) {
      for (const q of queue) counter = Math.max(counter, q.order, q.change);
    }
    await index.sync();
    const store: Open = { lock, inbox, index, jobs, marks, outbox, lost: new Set(looked.lost) };
    for (const job of outbox.keys()) await inbox.wake(job);
    for (const job of sleepers(store)) inbox.sleep(job);
    if (all) await inbox.rewrite();
    if (restored) await files.remove(join(folder, RESTORED_MARK));
    open = store;
    for (const { file, movedTo, why } of [...aside, ...looked.setAside]) {
      tell(
        new StoreTrouble('damaged', why, file, `It is now ${movedTo}. Put it back from a backup.`),
      );
    }
    if (absent && begun && !restored) tell(inboxGone(inboxPath));
    for (const job of looked.lost) tell(missing(job, jobs.pathOf(job)));
    return [...aside, ...looked.setAside];
  };

  const openFolder = async (): Promise<{ readonly setAside: readonly SetAside[] }> => {
    if (open !== undefined) return { setAside: [] };
    let lock: FolderLock | undefined;
    const begunFiles: { close: () => Promise<void> }[] = [];
    try {
      for (const part of ['', 'jobs', 'files']) await files.makeFolder(join(folder, part));
      lock = await lockFolder(files, folder, options.clock(), options.machine ?? thisMachine);
      const aside = await openLocked(lock, begunFiles);
      await files.syncFolder(folder);
      return { setAside: aside };
    } catch (error) {
      open = undefined;
      for (const file of begunFiles) await file.close();
      await lock?.release().catch(() => undefined);
      throw diskTrouble(error, 'Opening the data folder', folder);
    }
  };

  const close = async (): Promise<void> => {
    if (open === undefined) return;
    const store = open;
    await queues.idle();
    open = undefined;
    try {
      await store.index.sync();
      for (const job of sleepers(store)) store.inbox.sleep(job);
      await store.inbox.rewrite();
    } catch (error) {
      // The next start looks at the jobs that are still marked as awake.
      if (error instanceof StoreTrouble) tell(error);
    }
    await store.inbox.close();
    await store.index.close();
    await store.lock.release().catch((error: unknown) => {
      if (error instanceof StoreTrouble) tell(error);
    });
  };

  const shownJob = (data: JobData): StoredJob => ({
    job: data.job,
    version: data.events.length,
    events: data.events,
    threads: data.threads,
    posts: data.posts,
    outbox: data.outbox.map((q) => q.entry),
  });

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
    for (const q of all) handed.set(q.entry.id, q.change);
    return all.map((q) => q.entry);
  };

  return {
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
    settlePost: async (job, id, ref) => {
      await change(job, (old) => withPostSettled(old, id, ref, handed.get(id)));
      handed.delete(id);
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
      // Older lines of both files still hold the names.
      await opened().index.rewrite();
      await opened().inbox.rewrite();
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

/** True where the data folder exists and holds a store. */
export async function holdsStore(folder: string, files: FileSeam = diskFiles): Promise<boolean> {
  try {
    await files.facts(join(folder, 'inbox.jsonl'));
    return true;
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return false;
    throw diskTrouble(error, 'Looking at the data folder', folder);
  }
}
