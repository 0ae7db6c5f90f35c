// A disk in memory that knows what was synced, so that the power can be cut: what was not synced may be there, in part,
// or not at all. A killed process loses none of that, so only this shows a missing sync.
import { dirname } from 'node:path';
import type { FileFacts, FileSeam, OpenFile } from '../../src/store/file-seam.ts';

type Inode = { readonly id: number; now: Buffer; synced: Buffer };
type Folder = { now: Map<string, Inode>; synced: Map<string, Inode> };

export type MemoryDisk = {
  readonly files: FileSeam;
  /** After so many more operations the power goes: that one and all later ones fail. */
  readonly cutAfter: (operations: number) => void;
  readonly isCut: () => boolean;
  /** What a machine finds when the power is back. `random` gives numbers from 0 up to 1. */
  readonly powerBack: (random: () => number) => void;
  /** For trying the tests themselves: syncs of this kind do nothing. */
  readonly ignore: (what: 'file' | 'folder' | 'nothing') => void;
};

const failure = (code: string, path = ''): Error =>
  Object.assign(new Error(`${code}: ${path}`), { code });

/** What is left of content that was not synced: as it was, as it is, or a part of the new with or without rubbish. */
function remains(inode: Inode, random: () => number): Buffer {
  const { now, synced } = inode;
  if (now.equals(synced)) return now;
  const kept = now.subarray(0, synced.length).equals(synced) ? synced.length : 0;
  const part = now.subarray(0, kept + Math.floor(random() * (now.length - kept)));
  switch (Math.floor(random() * 4)) {
    case 0:
      return synced;
    case 1:
      return now;
    case 2:
      return part;
    default:
      return Buffer.concat([part, Buffer.alloc(now.length - part.length)]);
  }
}

export function memoryDisk(): MemoryDisk {
  const folders = new Map<string, Folder>();
  let ids = 0;
  let left = Number.POSITIVE_INFINITY;
  let ignored: 'file' | 'folder' | 'nothing' = 'nothing';

  const step = async (): Promise<void> => {
    left -= 1;
    if (left < 0) throw failure('EIO', 'the power is off');
  };
  const folderOf = (path: string): Folder => {
    const folder = folders.get(path);
    if (folder === undefined) throw failure('ENOENT', path);
    return folder;
  };
  const nameOf = (path: string): string => path.slice(dirname(path).length + 1);
  const inodeOf = (path: string): Inode => {
    const inode = folderOf(dirname(path)).now.get(nameOf(path));
    if (inode === undefined) throw failure('ENOENT', path);
    return inode;
  };
  const factsOf = (inode: Inode): FileFacts => ({
    size: inode.now.length,
    inode: inode.id,
    device: 1,
    folder: false,
  });

  const handle = (inode: Inode): OpenFile => ({
    write: async (bytes) => {
      await step();
      inode.now = Buffer.concat([inode.now, bytes]);
    },
    sync: async () => {
      await step();
      if (ignored !== 'file') inode.synced = inode.now;
    },
    dataSync: async () => {
      await step();
      if (ignored !== 'file') inode.synced = inode.now;
    },
    truncate: async (length) => {
      await step();
      inode.now = inode.now.subarray(0, length);
    },
    facts: async () => {
      await step();
      return factsOf(inode);
    },
    close: async () => undefined,
  });

  const files: FileSeam = {
    open: async (path, how) => {
      await step();
      const folder = folderOf(dirname(path));
      let inode = folder.now.get(nameOf(path));
      if (inode === undefined) {
        ids += 1;
        inode = { id: ids, now: Buffer.alloc(0), synced: Buffer.alloc(0) };
        folder.now.set(nameOf(path), inode);
      }
      if (how === 'new') inode.now = Buffer.alloc(0);
      return handle(inode);
    },
    read: async (path) => {
      await step();
      return inodeOf(path).now;
    },
    rename: async (from, to) => {
      await step();
      const inode = inodeOf(from);
      folderOf(dirname(from)).now.delete(nameOf(from));
      folderOf(dirname(to)).now.set(nameOf(to), inode);
    },
    link: async (from, to) => {
      await step();
      if (folderOf(dirname(to)).now.has(nameOf(to))) throw failure('EEXIST', to);
      folderOf(dirname(to)).now.set(nameOf(to), inodeOf(from));
    },
    remove: async (path) => {
      await step();
      inodeOf(path);
      folderOf(dirname(path)).now.delete(nameOf(path));
    },
    // Making the folders of a new store is done once, before the first message; it counts as lasting.
    makeFolder: async (path) => {
      await step();
      if (!folders.has(path)) folders.set(path, { now: new Map(), synced: new Map() });
    },
    names: async (path) => {
      await step();
      return [...folderOf(path).now.keys()];
    },
    facts: async (path) => {
      await step();
      const folder = folders.has(path);
      return folder ? { size: 0, inode: 0, device: 1, folder } : factsOf(inodeOf(path));
    },
    syncFolder: async (path) => {
      await step();
      const folder = folderOf(path);
      if (ignored !== 'folder') folder.synced = new Map(folder.now);
    },
  };

  return {
    files,
    cutAfter: (operations) => {
      left = operations;
    },
    isCut: () => left < 0,
    ignore: (what) => {
      ignored = what;
    },
    powerBack: (random) => {
      left = Number.POSITIVE_INFINITY;
      const contents = new Map<Inode, Inode>();
      const after = (inode: Inode): Inode => {
        const known = contents.get(inode);
        if (known !== undefined) return known;
        const bytes = remains(inode, random);
        const found = { id: inode.id, now: bytes, synced: bytes };
        contents.set(inode, found);
        return found;
      };
      for (const folder of folders.values()) {
        const found = new Map<string, Inode>();
        for (const name of new Set([...folder.now.keys(), ...folder.synced.keys()])) {
          const side = random() < 0.5 ? folder.now : folder.synced;
          const inode = side.get(name);
          if (inode !== undefined) found.set(name, after(inode));
        }
        folder.now = found;
        folder.synced = new Map(found);
      }
    },
  };
}
