// One thread, or the yard, as it stands: folded from its file and kept up with every line that is added.
import { readFileSync } from 'node:fs';
import type { BenchLog } from '../bench-options.ts';
import { afterLine, type Entry, Line } from './entry.ts';
import { openLineFile, readLines } from './line-file.ts';
import { type Change, changedText } from './removal.ts';

export type Roll = {
  readonly thread: string | null;
  /** In the order in which they were said or posted. */
  readonly entries: () => readonly Entry[];
  readonly entry: (id: string) => Entry | undefined;
  /** The entry a client's own id already stands for: a message sent twice is one message. */
  readonly byClient: (client: string) => Entry | undefined;
  /** Adds a line; resolves with the entry once the line is synced. */
  readonly add: (line: Line) => Promise<Entry | undefined>;
  /** Takes words out of what was said, in the file and here; resolves to the number of lines changed. */
  readonly change?: (change: Change) => Promise<number>;
  readonly close: () => Promise<void>;
};

export type Fold = Pick<Roll, 'entries' | 'entry' | 'byClient'> & {
  /**
   * The entry after a line; undefined where the line speaks of one that is not there.
   * @param thread where the line stands: here, unless said
   */
  readonly take: (line: Line, thread?: string | null) => Entry | undefined;
};

/** @param root the entry that the thread hangs from, kept in the yard */
export const foldRoll = (thread: string | null, root?: Entry): Fold => {
  const entries = new Map<string, Entry>();
  const clients = new Map<string, string>();
  if (root !== undefined) entries.set(root.id, root);
  return {
    entries: () => [...entries.values()],
    entry: (id) => entries.get(id),
    byClient: (client) => {
      const id = clients.get(client);
      return id === undefined ? undefined : entries.get(id);
    },
    take: (line, where = thread) => {
      const known = entries.get(line.id);
      const isNew = line.what === 'said' || line.what === 'posted';
      if (isNew && known !== undefined) return known;
      const next = afterLine(known, line, where);
      if (next !== undefined) entries.set(line.id, next);
      if ('client' in line) clients.set(line.client, line.id);
      return next;
    },
  };
};

/** Opens the file of one thread. `root` is the entry that the thread hangs from, kept in the yard's file. */
export async function openRoll(
  file: string,
  thread: string | null,
  root: Entry | undefined,
  log?: BenchLog,
): Promise<Roll> {
  const { lines, values } = await openLineFile(file, log);
  const foldOf = (all: readonly unknown[]): Fold => {
    const made = foldRoll(thread, root);
    for (const value of all) {
      const line = Line.safeParse(value);
      if (line.success) made.take(line.data);
      else log?.warn({ file }, 'A line in an unknown form was passed over');
    }
    return made;
  };
  let fold = foldOf(values);
  return {
    thread,
    entries: () => fold.entries(),
    entry: (id) => fold.entry(id),
    byClient: (client) => fold.byClient(client),
    add: async (line) => {
      await lines.append(line);
      return fold.take(line);
    },
    change: async (change) => {
      const changed = await lines.rewrite(changedText(change));
      // Read and put in place in one go: a line that is added meanwhile is in the file already, or is taken in after it.
      if (changed > 0) fold = foldOf(readLines(readFileSync(file), file, log));
      return changed;
    },
    close: () => lines.close(),
  };
}
