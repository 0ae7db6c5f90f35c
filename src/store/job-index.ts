// What listing the jobs and finding the job of a thread needs, so that neither opens a job's file.
import { z } from 'zod';
import type { FileSeam } from './file-seam.ts';
import { IndexEntryForm } from './job-form.ts';
import type { IndexEntry, ThreadRef } from './job-store.ts';
import { openJournal, readJournal } from './journal.ts';
import { StoreTrouble } from './store-trouble.ts';

const Line = z.discriminatedUnion('k', [
  z.strictObject({ k: z.literal('format'), format: z.literal(1) }),
  z.strictObject({ k: z.literal('job'), entry: IndexEntryForm }),
]);
type Line =
  | { readonly k: 'format'; readonly format: 1 }
  | { readonly k: 'job'; readonly entry: IndexEntry };

export type JobIndex = {
  /** Takes an entry in at once, and to the disk with the next sync; nothing is written where nothing changed. */
  readonly put: (entry: IndexEntry) => void;
  readonly entry: (job: string) => IndexEntry | undefined;
  readonly list: () => readonly IndexEntry[];
  readonly jobOfThread: (ref: ThreadRef) => string | undefined;
  /** Resolves once all entries put are on the disk. */
  readonly sync: () => Promise<void>;
  readonly rewrite: () => Promise<void>;
  readonly close: () => Promise<void>;
};

const threadKey = (ref: ThreadRef): string =>
  JSON.stringify([ref.channel, ref.team, ref.place, ref.thread]);

type Memory = {
  readonly entries: Map<string, { readonly entry: IndexEntry; readonly text: string }>;
  readonly threads: Map<string, string>;
};

/** A thread that a second job takes over is the second one's; so jobs are kept in the order of their last new thread. */
function take(memory: Memory, entry: IndexEntry): boolean {
  const text = JSON.stringify(entry);
  const before = memory.entries.get(entry.job);
  if (before?.text === text) return false;
  const had = new Set(before?.entry.threads.map(threadKey));
  const fresh = entry.threads.map(threadKey).filter((key) => !had.has(key));
  for (const key of fresh) memory.threads.set(key, entry.job);
  if (fresh.length > 0) memory.entries.delete(entry.job);
  memory.entries.set(entry.job, { entry, text });
  return true;
}

/**
 * Opens the index; lines left behind by newer ones of the same job go when they are more than half.
 * @param incomplete called before the file is written anew, where it was absent or had damaged lines: the jobs' own
 * files say what it has to hold.
 * @throws StoreTrouble where the disk refuses or a newer version wrote it.
 */
export async function openIndex(
  files: FileSeam,
  path: string,
  onTrouble: (trouble: StoreTrouble) => void,
  incomplete: () => Promise<void>,
): Promise<JobIndex> {
  const read = await readJournal(files, path);
  const memory: Memory = { entries: new Map(), threads: new Map() };
  const lines = read === 'absent' ? undefined : read;
  for (const value of lines?.values ?? []) {
    const parsed = Line.safeParse(value);
    if (!parsed.success) {
      throw new StoreTrouble(
        'newer-format',
        'This file holds lines that this version does not know:',
        path,
        'It was written by a newer version of the program; start that one.',
      );
    }
    if (parsed.data.k === 'job') take(memory, parsed.data.entry);
  }
  const whole = lines !== undefined && lines.damaged.length === 0;
  if (!whole) await incomplete();
  function* snapshot(): Generator<Line> {
    yield { k: 'format', format: 1 };
    for (const { entry } of memory.entries.values()) yield { k: 'job', entry };
  }
  const journal = openJournal(
    files,
    path,
    snapshot,
    whole ? { length: lines.good, lines: lines.values.length } : undefined,
  );
  await journal.sync();
  if (journal.lines() > 2 * memory.entries.size + 100) await journal.rewrite();

  return {
    put: (entry) => {
      if (!take(memory, entry)) return;
      journal.note({ k: 'job', entry } satisfies Line).catch((error: unknown) => {
        if (error instanceof StoreTrouble) onTrouble(error);
      });
    },
    entry: (job) => memory.entries.get(job)?.entry,
    list: () => [...memory.entries.values()].map((e) => e.entry),
    jobOfThread: (ref) => memory.threads.get(threadKey(ref)),
    sync: journal.sync,
    rewrite: journal.rewrite,
    close: journal.close,
  };
}
