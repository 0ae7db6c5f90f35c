// The bench's own conversation: the yard, and one file for each thread, opened when somebody looks at it.
import { mkdir, readdir } from 'node:fs/promises';
import path from 'node:path';
import type { BenchLog } from '../bench-options.ts';
import type { Entry, Line } from './entry.ts';
import { syncFolder } from './line-file.ts';
import type { Change } from './removal.ts';
import { openRoll, type Roll } from './roll.ts';

export type Heard = {
  readonly thread: string | null;
  readonly id: string;
  /** As it stands now; undefined where the thread is not open here. */
  readonly entry: Entry | undefined;
  /** Its place in the order that several processes share. */
  readonly n?: number;
};

export type Conversation = {
  readonly yard: Roll;
  /** A thread's roll; undefined when its root was never posted in the yard. */
  readonly thread: (root: string) => Promise<Roll | undefined>;
  /** The roll a place speaks of: its thread, or the yard. */
  readonly rollAt: (thread: string | null | undefined) => Promise<Roll | undefined>;
  /** The roll in which lines about this message belong: a root that has a thread is kept up there. */
  readonly rollOf: (
    thread: string | null | undefined,
    message: string,
  ) => Promise<Roll | undefined>;
  /** Adds a line and tells the listeners, unless `quiet`. */
  readonly add: (roll: Roll, line: Line, quiet?: boolean) => Promise<Entry | undefined>;
  readonly tell: (roll: Roll, entry: Entry) => void;
  readonly hasThread: (root: string) => boolean;
  /** What other processes said until now is in it when this resolves. */
  readonly refresh: () => Promise<void>;
  /** Up to which place of the order that several processes share it goes; undefined where one process has it all. */
  readonly upTo: () => number | undefined;
  /**
   * Takes words out of the yard and of every thread that is not kept, while people go on talking.
   * @returns the number of lines changed
   */
  readonly change?: (change: Change, kept: ReadonlySet<string>) => Promise<number>;
  readonly onEntry: (listener: (heard: Heard) => void) => () => void;
  readonly close: () => Promise<void>;
};

/** Threads kept open at once; the ones looked at longest ago are closed first. */
const KEPT_OPEN = 64;
const SAFE = /^[a-z0-9-]{1,80}$/;

/** Opens the conversation in a folder. Throws, naming the folder, where it cannot be made or read. */
export async function openConversation(folder: string, log?: BenchLog): Promise<Conversation> {
  const threadFolder = path.join(folder, 'threads');
  await mkdir(threadFolder, { recursive: true, mode: 0o700 });
  await syncFolder(folder);
  const yard = await openRoll(path.join(folder, 'yard.jsonl'), null, undefined, log);
  const begun = new Set(
    (await readdir(threadFolder))
      .filter((name) => name.endsWith('.jsonl'))
      .map((name) => name.slice(0, -'.jsonl'.length)),
  );
  const open = new Map<string, Promise<Roll>>();
  const busy = new Map<Roll, number>();
  const listeners = new Set<(heard: Heard) => void>();

  const thread = async (root: string): Promise<Roll | undefined> => {
    if (!SAFE.test(root)) return undefined;
    const hung = yard.entry(root);
    if (hung === undefined) return undefined;
    const known = open.get(root);
    if (known !== undefined) {
      open.delete(root);
      open.set(root, known);
      return known;
    }
    const opening = openRoll(path.join(threadFolder, `${root}.jsonl`), root, hung, log);
    opening.catch(() => open.delete(root));
    open.set(root, opening);
    begun.add(root);
    const roll = await opening;
    await closeOldest();
    return roll;
  };

  const closeOldest = async (): Promise<void> => {
    for (const [root, opening] of open) {
      if (open.size <= KEPT_OPEN) return;
      const roll = await opening;
      if ((busy.get(roll) ?? 0) > 0) continue;
      open.delete(root);
      await roll.close();
    }
  };

  /** A roll is not closed while something is written to it. */
  const whileBusy = async <T>(roll: Roll, write: () => Promise<T>): Promise<T> => {
    busy.set(roll, (busy.get(roll) ?? 0) + 1);
    try {
      return await write();
    } finally {
      const left = (busy.get(roll) ?? 1) - 1;
      if (left > 0) busy.set(roll, left);
      else busy.delete(roll);
    }
  };

  const rollAt = async (root: string | null | undefined) =>
    root === null || root === undefined ? yard : thread(root);

  const tell: Conversation['tell'] = (roll, entry) => {
    for (const listener of listeners) listener({ thread: roll.thread, id: entry.id, entry });
  };

  return {
    yard,
    thread,
    rollAt,
    rollOf: async (root, message) =>
      begun.has(message) ? ((await thread(message)) ?? yard) : rollAt(root),
    add: async (roll, line, quiet = false) => {
      // The roll may have been closed since it was handed out.
      const live = (await rollAt(roll.thread)) ?? roll;
      const entry = await whileBusy(live, () => live.add(line));
      if (entry !== undefined && !quiet) tell(live, entry);
      return entry;
    },
    tell,
    hasThread: (root) => begun.has(root),
    refresh: async () => undefined,
    upTo: () => undefined,
    change: async (change, kept) => {
      let changed = (await yard.change?.(change)) ?? 0;
      for (const root of [...begun]) {
        const roll = kept.has(root) ? undefined : await thread(root);
        if (roll) changed += (await whileBusy(roll, async () => roll.change?.(change))) ?? 0;
      }
      return changed;
    },
    onEntry: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    close: async () => {
      const rolls = await Promise.all(open.values());
      open.clear();
      await Promise.all([...rolls, yard].map((roll) => roll.close()));
    },
  };
}
