// The store of one machine in a folder of its own, for the tests that every store runs.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FileSeam } from '../../src/store/file-seam.ts';
import { thisMachine } from '../../src/store/folder-lock.ts';
import { type JobFileStore, jobFileStore } from '../../src/store/job-file-store.ts';
import type { StoreTrouble } from '../../src/store/store-trouble.ts';
import type { StoreHarness } from './contract.ts';
import { at } from './sample.ts';

export type FileHarness = StoreHarness & {
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

export async function newFolder(): Promise<string> {
  return mkdtemp(join(tmpdir(), 'chargehand-store-'));
}

export async function fileHarness(files?: FileSeam): Promise<FileHarness> {
  const folder = join(await newFolder(), 'workshop');
  const troubles: StoreTrouble[] = [];
  let pid = thisMachine.pid;
  let salts = 0;
  const make = (): JobFileStore => {
    salts += 1_000_000;
    // After a crash the old process is dead: it is given a number that no process has.
    const me = pid;
    return jobFileStore(folder, {
      clock: () => at(0),
      salt: saltsFrom(salts),
      ...(files === undefined ? {} : { files }),
      machine: { ...thisMachine, pid: me, alive: (other) => other === me, started: () => '' },
      onTrouble: (trouble) => troubles.push(trouble),
    });
  };
  let store = make();
  await store.open();
  const first = store;
  return {
    store: first,
    folder,
    troubles,
    restart: async () => {
      await store.close();
      store = make();
      await store.open();
      return store;
    },
    crash: async () => {
      pid += 1;
      store = make();
      await store.open();
      return store;
    },
    end: async () => {
      await store.close();
      await rm(join(folder, '..'), { recursive: true, force: true });
    },
  };
}
