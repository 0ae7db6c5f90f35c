// Stores for the day: each can be killed in the middle of things and opened again by the next process, and says what of it
// is lastingly kept. A store of another kind joins by keeping `DayStore`.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import type { FileSeam, OpenFile } from '../../../../src/store/file-seam.ts';
import { diskFiles } from '../../../../src/store/file-seam.ts';
import { thisMachine } from '../../../../src/store/folder-lock.ts';
import { jobFileStore } from '../../../../src/store/job-file-store.ts';
import type { JobStore } from '../../../../src/store/job-store.ts';
import { memoryDisk } from '../../../store/memory-disk.ts';

/** One process's hold on the store. */
export type Held = {
  readonly store: JobStore;
  /** The process is gone in this moment: whatever it still waits for never comes. Resolves when nothing of it moves. */
  readonly kill: () => Promise<void>;
};

export type DayStore = {
  readonly name: string;
  readonly next: (clock: () => string) => Held;
  /** What is under way on it now. */
  readonly busy: () => number;
  /** Whether a delivery with this id would be found after the power went off now. */
  readonly isLasting: (delivery: string) => boolean;
  readonly end: () => Promise<void>;
};

export type MakeDayStore = (random: () => number) => Promise<DayStore>;

const never = <T>(): Promise<T> => new Promise(() => undefined);

/** Ids of deliveries in lines of the inbox. */
const idsIn = (text: string): readonly string[] =>
  [...text.matchAll(/"id":"([^"]+)"/gu)].map(([, id]) => id ?? '');

/** Watches what is written to the inbox and when it is synced; and stops answering once its process is dead. */
const watchedFiles = () => {
  const lasting = new Set<string>();
  /** Lines of the inbox that no sync has followed yet, of whichever process: a killed one leaves them to the next. */
  const written: string[] = [];
  let busy = 0;
  const forProcess = (files: FileSeam) => {
    let dead = false;
    const open = new Set<OpenFile>();
    const through = async <T>(work: () => Promise<T>): Promise<T> => {
      if (dead) return never();
      busy += 1;
      const done = await work().then(
        (value) => () => value,
        (error: unknown) => (): T => {
          throw error;
        },
      );
      busy -= 1;
      return dead ? never() : done();
    };
    const fileOf = (file: OpenFile, isInbox: boolean): OpenFile => {
      open.add(file);
      const synced = (sync: () => Promise<void>) => (): Promise<void> =>
        through(async () => {
          const before = written.length;
          await sync();
          if (!isInbox) return;
          for (const text of written.splice(0, before))
            for (const id of idsIn(text)) lasting.add(id);
        });
      return {
        write: (bytes) =>
          through(async () => {
            await file.write(bytes);
            if (isInbox) written.push(Buffer.from(bytes).toString('utf8'));
          }),
        sync: synced(file.sync),
        dataSync: synced(file.dataSync),
        truncate: (length) => through(() => file.truncate(length)),
        facts: () => through(file.facts),
        close: () =>
          through(async () => {
            open.delete(file);
            await file.close();
          }),
      };
    };
    const watched: FileSeam = {
      open: async (path, how) =>
        fileOf(await through(() => files.open(path, how)), basename(path).startsWith('inbox')),
      read: (path) => through(() => files.read(path)),
      rename: (from, to) => through(() => files.rename(from, to)),
      link: (from, to) => through(() => files.link(from, to)),
      remove: (path) => through(() => files.remove(path)),
      makeFolder: (path) => through(() => files.makeFolder(path)),
      names: (folder) => through(() => files.names(folder)),
      facts: (path) => through(() => files.facts(path)),
      syncFolder: (folder) => through(() => files.syncFolder(folder)),
    };
    return {
      files: watched,
      die: async (): Promise<void> => {
        dead = true;
        // Calls that were with the operating system already are carried out, as they are for a killed process.
        while (busy > 0) await new Promise((resolve) => setImmediate(resolve));
        for (const file of open) await file.close().catch(() => undefined);
      },
    };
  };
  return { forProcess, busy: () => busy, isLasting: (id: string) => lasting.has(id), written };
};

const folderStore = (
  name: string,
  files: FileSeam,
  folder: string,
  afterKill: (unsynced: string[]) => void,
  end: () => Promise<void>,
): DayStore => {
  const watch = watchedFiles();
  let process = 0;
  return {
    name,
    next: (clock) => {
      process += 1;
      const me = process;
      const life = watch.forProcess(files);
      return {
        store: jobFileStore(folder, {
          clock,
          files: life.files,
          machine: { ...thisMachine, pid: me, alive: (pid) => pid === process, started: () => '' },
        }),
        kill: async () => {
          await life.die();
          afterKill(watch.written);
        },
      };
    },
    busy: watch.busy,
    isLasting: watch.isLasting,
    end,
  };
};

/** On a disk in memory; a killed process loses what was not synced, in part or whole, as when the power goes. */
export const powerCutStore: MakeDayStore = async (random) => {
  const disk = memoryDisk();
  return folderStore(
    'a folder whose power goes',
    disk.files,
    '/workshop',
    (unsynced) => {
      unsynced.length = 0;
      disk.powerBack(random);
    },
    async () => undefined,
  );
};

/** In a folder on the real disk. */
export const diskStore: MakeDayStore = async () => {
  const folder = await mkdtemp(join(tmpdir(), 'chargehand-day-'));
  return folderStore(
    'a folder',
    diskFiles,
    join(folder, 'jobs'),
    () => undefined,
    () => rm(folder, { recursive: true, force: true }),
  );
};
