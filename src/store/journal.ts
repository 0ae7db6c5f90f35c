// An append-only file with one writer. What waits is written and synced together, so many at once cost one sync.
import { dirname } from 'node:path';
import type { FileFacts, FileSeam, OpenFile } from './file-seam.ts';
import { type OpenedLines, openLines, sealLine } from './sealed-line.ts';
import { codeOf, diskTrouble, StoreTrouble } from './store-trouble.ts';
import { writeWhole } from './whole-write.ts';

export type Journal = {
  /** Resolves once the line is on the disk; lines are written in the order of the calls. */
  readonly add: (value: unknown) => Promise<void>;
  /** Resolves once the line is handed to the operating system; the next synced line takes it along. */
  readonly note: (value: unknown) => Promise<void>;
  /** Resolves once all that was noted before is on the disk. */
  readonly sync: () => Promise<void>;
  /** Writes the file anew from the snapshot, between two batches. */
  readonly rewrite: () => Promise<void>;
  readonly lines: () => number;
  readonly close: () => Promise<void>;
};

type Waiting = {
  readonly text: string;
  readonly how: 'add' | 'note' | 'rewrite';
  readonly done: () => void;
  readonly failed: (error: unknown) => void;
};

/** Reads what is there; an absent file is told from an empty one. */
export async function readJournal(files: FileSeam, path: string): Promise<OpenedLines | 'absent'> {
  try {
    return openLines(await files.read(path));
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return 'absent';
    throw diskTrouble(error, 'Reading', path);
  }
}

/**
 * @param snapshot the values that the file must hold to say what memory says; used for `rewrite`, for a new file, and
 * when the file was lost or left in doubt by a failed sync.
 * @param known length and number of lines of the file as read; undefined to write it anew.
 */
export function openJournal(
  files: FileSeam,
  path: string,
  snapshot: () => Iterable<unknown>,
  known: { readonly length: number; readonly lines: number } | undefined,
): Journal {
  let file: OpenFile | undefined;
  let length = known?.length ?? 0;
  let lines = known?.lines ?? 0;
  // Where the file has to be mended before the next line: nothing, cut to the good length, or written anew.
  let mend: 'nothing' | 'cut' | 'anew' = known === undefined ? 'anew' : 'cut';
  let queue: Waiting[] = [];
  let running: Promise<void> | undefined;
  let closed = false;
  let identity: { readonly of: OpenFile; readonly facts: FileFacts } | undefined;

  const letGo = async (): Promise<void> => {
    const old = file;
    file = undefined;
    // A handle that cannot be closed is of no use to anyone; what matters was synced or has been refused.
    await old?.close().catch(() => undefined);
  };

  const writeAnew = async (): Promise<void> => {
    let text = '';
    let count = 0;
    for (const value of snapshot()) {
      text += sealLine(value);
      count += 1;
    }
    const bytes = Buffer.from(text);
    let renamed = false;
    try {
      await writeWhole(files, path, bytes, {
        renamed: () => {
          renamed = true;
        },
      });
      await letGo();
      file = await files.open(path, 'append');
    } catch (error) {
      if (renamed) mend = 'anew';
      throw error;
    }
    length = bytes.length;
    lines = count;
    mend = 'nothing';
  };

  const mended = async (): Promise<OpenFile> => {
    if (file !== undefined && mend === 'nothing') return file;
    if (mend === 'cut') {
      await letGo();
      const facts = await files.facts(path).catch((error: unknown) => {
        if (codeOf(error) === 'ENOENT') return undefined;
        throw error;
      });
      if (facts === undefined || facts.size < length) mend = 'anew';
      else {
        file = await files.open(path, 'append');
        if (facts.size > length) {
          await file.truncate(length);
          await file.sync();
        }
      }
    }
    if (mend === 'anew' || file === undefined) await writeAnew();
    else mend = 'nothing';
    if (file === undefined) throw new Error('the journal has no file after mending');
    return file;
  };

  // A file that was deleted can still be written through its handle: what went there would be lost without a word.
  const stillThere = async (open: OpenFile): Promise<void> => {
    if (identity?.of !== open) identity = { of: open, facts: await open.facts() };
    const named = await files.facts(path);
    if (identity.facts.inode !== named.inode || identity.facts.device !== named.device) {
      throw Object.assign(new Error('the file was replaced by another'), { code: 'ENOENT' });
    }
  };

  const writeBatch = async (batch: readonly Waiting[]): Promise<void> => {
    const open = await mended();
    const text = batch.map((w) => w.text).join('');
    const bytes = Buffer.from(text);
    const synced = batch.some((w) => w.how === 'add');
    let step: 'write' | 'sync' = 'write';
    try {
      if (bytes.length > 0) await open.write(bytes);
      step = 'sync';
      if (synced) {
        await Promise.all([open.dataSync(), stillThere(open)]);
      }
    } catch (error) {
      // After a failed sync nobody knows which pages the disk has. A noted line counts as written for its caller, so
      // it has to come from the snapshot too.
      const noted = batch.some((w) => w.how === 'note');
      mend = step === 'write' && !noted && mend !== 'anew' ? 'cut' : 'anew';
      throw error;
    }
    length += bytes.length;
    lines += batch.filter((w) => w.text !== '').length;
  };

  // A rewrite goes alone: the snapshot has to hold what the lines before it brought.
  const nextBatch = (): Waiting[] => {
    const at = queue.findIndex((w) => w.how === 'rewrite');
    const batch = at < 0 ? queue : queue.slice(0, Math.max(at, 1));
    queue = queue.slice(batch.length);
    return batch;
  };

  const run = async (): Promise<void> => {
    while (queue.length > 0) {
      const batch = nextBatch();
      try {
        if (batch[0]?.how === 'rewrite') await writeAnew();
        else await writeBatch(batch);
        for (const w of batch) w.done();
      } catch (error) {
        const trouble = diskTrouble(error, 'Writing', path);
        for (const w of batch) w.failed(trouble);
      }
      // The callers take in what was written before the next batch, or a snapshot would miss it.
      await new Promise((resolve) => setImmediate(resolve));
    }
    running = undefined;
  };

  const put = (text: string, how: Waiting['how']): Promise<void> => {
    if (closed) {
      return Promise.reject(
        new StoreTrouble('closed', 'The store is closed:', dirname(path), 'Start it again first.'),
      );
    }
    return new Promise((done, failed) => {
      queue.push({ text, how, done, failed });
      running ??= run();
    });
  };

  return {
    add: (value) => put(sealLine(value), 'add'),
    note: (value) => put(sealLine(value), 'note'),
    sync: () => put('', 'add'),
    rewrite: () => put('', 'rewrite'),
    lines: () => lines,
    close: async () => {
      closed = true;
      await running;
      await letGo();
    },
  };
}
