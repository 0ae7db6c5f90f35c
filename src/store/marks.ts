// Small marks that survive a restart, in one small file.
import { Low } from 'lowdb';
import { z } from 'zod';
import { durableFile } from './durable-file.ts';
import type { FileSeam } from './file-seam.ts';

/** Pairs, since a name such as "__proto__" is no member of an object. */
const Marks = z.array(z.tuple([z.string(), z.string()]));
type Marks = readonly (readonly [name: string, value: string])[];

export type MarksFile = {
  readonly get: (name: string) => string | undefined;
  readonly set: (name: string, value: string) => Promise<void>;
};

/** @throws StoreTrouble of kind `damaged` where the file cannot be believed. */
export async function openMarks(files: FileSeam, path: string): Promise<MarksFile> {
  const low = new Low<Marks>(
    durableFile<Marks>(files, path, {
      format: 1,
      lift: (_, data) => Marks.parse(data),
      json: (data) => JSON.stringify(data),
    }),
    [],
  );
  await low.read();
  let shown = new Map(low.data);
  let queue: Promise<void> = Promise.resolve();
  return {
    get: (name) => shown.get(name),
    set: (name, value) => {
      const written = queue.then(async () => {
        const next = new Map(shown).set(name, value);
        low.data = [...next];
        await low.write();
        shown = next;
      });
      queue = written.catch(() => undefined);
      return written;
    },
  };
}
