// One append-only file of JSON lines. What resolves is on disk; lines that arrive together share one sync.
import { type FileHandle, open, readFile, rename, writeFile } from 'node:fs/promises';
import path from 'node:path';
import type { BenchLog } from '../bench-options.ts';

export type LineFile = {
  /** Resolves once the line is synced. Rejects when the disk refuses; the file then ends where it did before. */
  readonly append: (value: unknown) => Promise<void>;
  readonly bytes: () => number;
  /** Empties the file; only when nothing in it is needed any more. */
  readonly empty: () => Promise<void>;
  /** Replaces the file as a whole between two appends, with each line as it shall stand; resolves to how many changed. */
  readonly rewrite: (change: (line: string) => string) => Promise<number>;
  readonly close: () => Promise<void>;
};

type Waiting = { readonly line: string; readonly done: (error?: unknown) => void };

/**
 * Opens a file of JSON lines, making it when it is missing, and gives the values it holds. A torn last line is cut
 * off and kept beside the file; a damaged line elsewhere is left where it is and passed over, with a warning.
 */
export async function openLineFile(
  file: string,
  log?: BenchLog,
): Promise<{ readonly lines: LineFile; readonly values: readonly unknown[] }> {
  const before = await readFile(file).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw new Error(
      `${file} cannot be read: ${error.message}\nGive the bench's user the right to read and write it.`,
    );
  });
  const whole = before === undefined ? 0 : before.lastIndexOf(0x0a) + 1;
  const values = before === undefined ? [] : readLines(before.subarray(0, whole), file, log);
  const handle = await open(file, 'a', 0o600);
  if (before === undefined) await syncFolder(path.dirname(file));
  if (before !== undefined && whole < before.length) {
    await writeFile(`${file}.torn`, before.subarray(whole), { mode: 0o600 });
    await handle.truncate(whole);
    await handle.datasync();
    log?.warn({ file, bytes: before.length - whole }, 'A torn last line was cut off and set aside');
  }
  return { lines: lineWriter(file, handle, whole), values };
}

/** The values of a file's whole lines. */
export function readLines(content: Buffer, file: string, log?: BenchLog): unknown[] {
  const values: unknown[] = [];
  for (const [at, line] of content.toString('utf8').split('\n').entries()) {
    if (line.trim() === '') continue;
    try {
      values.push(JSON.parse(line));
    } catch {
      log?.warn({ file, line: at + 1 }, 'A damaged line was passed over');
    }
  }
  return values;
}

function lineWriter(file: string, opened: FileHandle, from: number): LineFile {
  let handle = opened;
  let size = from;
  let mend = false;
  let waiting: Waiting[] = [];
  let work: Promise<void> | undefined;

  const writeAll = async (): Promise<void> => {
    while (waiting.length > 0) {
      const batch = waiting;
      waiting = [];
      const bytes = Buffer.from(batch.map(({ line }) => line).join(''), 'utf8');
      try {
        // After a write that failed half way, the half line has to go before anything is added.
        if (mend) await handle.truncate(size);
        mend = true;
        await handle.appendFile(bytes);
        await handle.datasync();
        mend = false;
        size += bytes.length;
        for (const { done } of batch) done();
      } catch (error) {
        for (const { done } of batch) done(error);
      }
    }
    work = undefined;
  };

  return {
    append: (value) =>
      new Promise((resolve, reject) => {
        const done = (error?: unknown) => (error === undefined ? resolve() : reject(error));
        waiting.push({ line: `${JSON.stringify(value)}\n`, done });
        work ??= writeAll();
      }),
    bytes: () => size,
    empty: async () => {
      while (work !== undefined) await work;
      const cut = async () => {
        await handle.truncate(0);
        size = 0;
        await writeAll();
      };
      work = cut();
      await work;
    },
    rewrite: async (change) => {
      while (work !== undefined) await work;
      let changed = 0;
      const replace = async (): Promise<void> => {
        const before = (await readFile(file)).subarray(0, size).toString('utf8').split('\n');
        const after = before.map(change);
        changed = after.filter((line, at) => line !== before[at]).length;
        if (changed === 0) return;
        const bytes = Buffer.from(after.join('\n'), 'utf8');
        await putInPlace(file, bytes);
        // From here on the name stands for the new file, so what is added has to go there.
        const old = handle;
        handle = await open(file, 'a', 0o600);
        size = bytes.length;
        mend = false;
        await old.close();
        await syncFolder(path.dirname(file));
      };
      const replacing = replace();
      work = replacing.catch(() => undefined).then(writeAll);
      await replacing;
      return changed;
    },
    close: async () => {
      while (work !== undefined) await work;
      await handle.close();
    },
  };
}

/** Written beside its place first: a half file never stands under its name. */
async function putInPlace(file: string, content: string | Uint8Array): Promise<void> {
  const beside = `${file}.new`;
  const handle = await open(beside, 'w', 0o600);
  try {
    await handle.writeFile(content);
    await handle.sync();
  } finally {
    await handle.close();
  }
  await rename(beside, file);
}

/** Replaces a file as a whole, synced; there is the old one or the new one, never a part. */
export async function writeWhole(file: string, content: string | Uint8Array): Promise<void> {
  await putInPlace(file, content);
  await syncFolder(path.dirname(file));
}

/** Makes a new name in a folder durable. */
export async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
