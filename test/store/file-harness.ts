// The store of one machine in a folder of its own, for the tests that every store runs.
import { mkdtemp, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileNameOf } from '../../src/store/file-name.ts';
import type { FileSeam } from '../../src/store/file-seam.ts';
import { thisMachine } from '../../src/store/folder-lock.ts';
import { type JobFileStore, jobFileStore } from '../../src/store/job-file-store.ts';
import type { StoreTrouble } from '../../src/store/store-trouble.ts';
import type { AnomalyHarness } from './anomalies.ts';
import { faultyFiles, WRITING } from './faults.ts';
import { at } from './sample.ts';

export type FileHarness = Omit<AnomalyHarness, 'store' | 'restart' | 'crash' | 'troubles'> & {
  readonly store: JobFileStore;
  readonly folder: string;
  readonly troubles: StoreTrouble[];
  readonly restart: () => Promise<JobFileStore>;
  readonly crash: () => Promise<JobFileStore>;
};

/** Salts that differ and are the same in every run. */
export function saltsFrom(start: number): () => string {
  let n = start;
  return () => {
    n += 1;
    return n.toString(16).padStart(32, '0');
  };
}

export const newFolder = (): Promise<string> => mkdtemp(join(tmpdir(), 'chargehand-store-'));

const FAULTS: Readonly<Record<string, (disk: ReturnType<typeof faultyFiles>) => void>> = {
  'a full disk': (disk) => disk.fail(['write'], 'ENOSPC', true),
  'a full disk that has no room for a name': (disk) => disk.fail(['open', 'write'], 'ENOSPC'),
  'a read-only folder': (disk) => disk.fail(WRITING, 'EROFS'),
  'a folder that may not be written': (disk) => disk.fail(WRITING, 'EACCES'),
  'a disk that fails to sync': (disk) => disk.fail(['sync'], 'EIO'),
  'a disk that fails in everything': (disk) =>
    disk.fail([...WRITING, 'sync', 'syncFolder', 'facts'], 'EIO'),
};
const REMOVED = 'the folder taken away';
export const FILE_FAULTS: readonly string[] = [...Object.keys(FAULTS), REMOVED];

const DAMAGES: Readonly<Record<string, (path: string) => Promise<void>>> = {
  torn: async (path) => {
    const text = await readFile(path, 'utf8');
    await writeFile(path, text.slice(0, Math.floor(text.length / 2)));
  },
  'torn at the last byte but one': async (path) => {
    const text = await readFile(path, 'utf8');
    await writeFile(path, text.slice(0, -2));
  },
  empty: (path) => writeFile(path, ''),
  missing: (path) => rm(path),
  zeros: async (path) => {
    await writeFile(path, Buffer.alloc((await readFile(path)).length));
  },
  'changed in one letter': async (path) => {
    const text = await readFile(path, 'utf8');
    await writeFile(path, text.replace('loses coolant', 'loses coolAnt'));
  },
  "another program's": (path) => writeFile(path, '{"hello":"world"}'),
};
export const FILE_DAMAGES: readonly string[] = Object.keys(DAMAGES);

export async function fileHarness(base?: FileSeam): Promise<FileHarness> {
  const top = await newFolder();
  const folder = join(top, 'workshop');
  const troubles: StoreTrouble[] = [];
  let disk = faultyFiles(base);
  let pid = thisMachine.pid;
  let salts = 0;
  const make = (me: number): JobFileStore => {
    salts += 1_000_000;
    // After a crash the old process is dead: the new one has another number, and only its own is alive.
    return jobFileStore(folder, {
      clock: () => at(0),
      salt: saltsFrom(salts),
      files: disk.files,
      machine: {
        ...thisMachine,
        pid: me,
        alive: (other) => other === pid,
        started: () => '',
      },
      onTrouble: (trouble) => troubles.push(trouble),
    });
  };
  const first = make(pid);
  let store = first;
  await store.open();
  return {
    store: first,
    folder,
    troubles,
    restart: async () => {
      await store.close();
      store = make(pid);
      await store.open();
      return store;
    },
    crash: async () => {
      // The disk of the dead process stays dead, so that nothing it had begun goes on.
      disk.killAt(0);
      await disk.letGo();
      disk = faultyFiles(base);
      pid += 1;
      store = make(pid);
      await store.open();
      return store;
    },
    second: () => make(pid + 1_000_000),
    killAt: (n) => disk.killAt(n),
    killed: () => disk.killed(),
    fault: async (name) => {
      if (name === REMOVED) {
        await rename(folder, `${folder}-away`);
        return () => rename(`${folder}-away`, folder);
      }
      const begin = FAULTS[name];
      if (begin === undefined) throw new Error(`no fault "${name}"`);
      begin(disk);
      return async () => disk.mend();
    },
    damage: async (job, way) => {
      const damage = DAMAGES[way];
      if (damage === undefined) throw new Error(`no damage "${way}"`);
      await damage(join(folder, 'jobs', `${fileNameOf(job)}.json`));
    },
    end: async () => {
      disk.mend();
      await store.close();
      await rm(top, { recursive: true, force: true });
    },
  };
}
