// A disk that fails when it is told to. Root is never refused by the real one, so refusals are put in here.
import { diskFiles, type FileSeam, type OpenFile } from '../../src/store/file-seam.ts';

export type Operation =
  | 'open'
  | 'write'
  | 'sync'
  | 'truncate'
  | 'read'
  | 'rename'
  | 'link'
  | 'remove'
  | 'makeFolder'
  | 'names'
  | 'facts'
  | 'syncFolder';

export const WRITING: readonly Operation[] = [
  'open',
  'write',
  'rename',
  'link',
  'remove',
  'makeFolder',
  'truncate',
];

export type FaultyFiles = {
  readonly files: FileSeam;
  /** From now on these operations fail with this code; `partly`: a write leaves half its bytes behind. */
  readonly fail: (operations: readonly Operation[], code: string, partly?: boolean) => void;
  readonly mend: () => void;
  /** The n-th changing operation from now, counted from 1, and all later ones of any kind fail, as for a killed process. */
  readonly killAt: (n: number) => void;
  /** Closes what a killed process left open, as the system does. */
  readonly letGo: () => Promise<void>;
  /** True once the process counts as killed. */
  readonly killed: () => boolean;
};

const failure = (code: string): Error =>
  Object.assign(new Error(`${code}: put in by the test`), { code });

export function faultyFiles(base: FileSeam = diskFiles): FaultyFiles {
  let failing: ReadonlySet<Operation> = new Set();
  let failingCode = '';
  const opened = new Set<OpenFile>();
  let halfWrites = false;
  let left = Number.POSITIVE_INFINITY;

  const CHANGING = new Set<Operation>(['write', 'sync', 'rename', 'link', 'remove', 'syncFolder']);
  const gate = (operation: Operation): void => {
    if (CHANGING.has(operation)) left -= 1;
    if (left <= 0) throw failure('EIO');
    if (failing.has(operation)) throw failure(failingCode);
  };

  const handle = (file: OpenFile): OpenFile => ({
    write: async (bytes) => {
      if (halfWrites && failing.has('write')) {
        await file.write(bytes.subarray(0, Math.floor(bytes.length / 2)));
      }
      gate('write');
      await file.write(bytes);
    },
    sync: async () => {
      gate('sync');
      await file.sync();
    },
    dataSync: async () => {
      gate('sync');
      await file.dataSync();
    },
    truncate: async (length) => {
      gate('truncate');
      await file.truncate(length);
    },
    facts: async () => {
      gate('facts');
      return file.facts();
    },
    close: async () => {
      if (opened.delete(file)) await file.close();
    },
  });

  const gated =
    <A extends readonly unknown[], T>(operation: Operation, work: (...args: A) => Promise<T>) =>
    async (...args: A): Promise<T> => {
      gate(operation);
      return work(...args);
    };

  return {
    files: {
      open: gated('open', async (path, how) => {
        const file = await base.open(path, how);
        opened.add(file);
        return handle(file);
      }),
      read: gated('read', base.read),
      rename: gated('rename', base.rename),
      link: gated('link', base.link),
      remove: gated('remove', base.remove),
      makeFolder: gated('makeFolder', base.makeFolder),
      names: gated('names', base.names),
      facts: gated('facts', base.facts),
      syncFolder: gated('syncFolder', base.syncFolder),
    },
    fail: (operations, code, partly = false) => {
      failing = new Set(operations);
      failingCode = code;
      halfWrites = partly;
    },
    mend: () => {
      failing = new Set();
      left = Number.POSITIVE_INFINITY;
      halfWrites = false;
    },
    killAt: (n) => {
      left = n;
    },
    killed: () => left <= 0,
    letGo: async () => {
      for (const file of opened) await file.close();
      opened.clear();
    },
  };
}
