// The few operations on files that the store needs, so that tests can put a failing disk in their place.
import type { Stats } from 'node:fs';
import { link, mkdir, open, readdir, readFile, rename, stat, unlink } from 'node:fs/promises';

export type FileFacts = {
  readonly size: number;
  readonly inode: number;
  readonly device: number;
  readonly folder: boolean;
};

export type OpenFile = {
  /** Writes all bytes at the end of what was written before. */
  readonly write: (bytes: Uint8Array) => Promise<void>;
  /** Resolves when content and facts of the file are on the disk. */
  readonly sync: () => Promise<void>;
  /** Resolves when the content, and the length needed to read it, are on the disk. */
  readonly dataSync: () => Promise<void>;
  readonly truncate: (length: number) => Promise<void>;
  readonly facts: () => Promise<FileFacts>;
  readonly close: () => Promise<void>;
};

export type FileSeam = {
  /** `new`: empty, replacing what was there; `append`: at the end, created where missing. */
  readonly open: (path: string, how: 'new' | 'append') => Promise<OpenFile>;
  readonly read: (path: string) => Promise<Uint8Array>;
  readonly rename: (from: string, to: string) => Promise<void>;
  /** Makes a second name of a file; fails with EEXIST where the name is taken. */
  readonly link: (from: string, to: string) => Promise<void>;
  readonly remove: (path: string) => Promise<void>;
  readonly makeFolder: (path: string) => Promise<void>;
  readonly names: (folder: string) => Promise<readonly string[]>;
  readonly facts: (path: string) => Promise<FileFacts>;
  /** Resolves when the names in the folder are on the disk. */
  readonly syncFolder: (folder: string) => Promise<void>;
};

const factsOf = (s: Stats): FileFacts => ({
  size: s.size,
  inode: s.ino,
  device: s.dev,
  folder: s.isDirectory(),
});

/** The real disk. */
export const diskFiles: FileSeam = {
  open: async (path, how) => {
    const file = await open(path, how === 'new' ? 'w' : 'a', 0o600);
    return {
      write: async (bytes) => {
        let from = 0;
        while (from < bytes.length) {
          const { bytesWritten } = await file.write(bytes, from, bytes.length - from, null);
          from += bytesWritten;
        }
      },
      sync: () => file.sync(),
      dataSync: () => file.datasync(),
      truncate: (length) => file.truncate(length),
      facts: async () => factsOf(await file.stat()),
      close: () => file.close(),
    };
  },
  read: (path) => readFile(path),
  rename,
  link,
  remove: unlink,
  makeFolder: async (path) => {
    await mkdir(path, { recursive: true, mode: 0o700 });
  },
  names: (folder) => readdir(folder),
  facts: async (path) => factsOf(await stat(path)),
  syncFolder: async (folder) => {
    const handle = await open(folder, 'r');
    try {
      await handle.sync();
    } finally {
      await handle.close();
    }
  },
};
