// The adapter under lowdb: a write that resolves is on the disk, and a read that fails names the file.
//
// The adapters that come with lowdb write without a sync, and a write of theirs can report the failure of the next one.
import { createHash } from 'node:crypto';
import { dirname } from 'node:path';
import type { Adapter } from 'lowdb';
import { z } from 'zod';
import type { FileSeam } from './file-seam.ts';
import { codeOf, diskTrouble, StoreTrouble } from './store-trouble.ts';
import { writeWhole } from './whole-write.ts';

export type DurableFile<T> = Adapter<T> & {
  /** Length of the file as last read or written, in bytes. */
  readonly size: () => number;
};

export type DurableForm<T> = {
  /** The format written now; a file of a higher one is left alone. */
  readonly format: number;
  /** Data of a file of this or an older format, as it is written now. */
  readonly lift: (format: number, data: unknown) => T;
  /** The data as JSON. */
  readonly json: (data: T) => string;
  /** Begun with each write and waited for before the new content takes the name. */
  readonly before?: () => Promise<void>;
};

const HEAD = /^\{"format":(\d{1,6}),"sum":"([0-9a-f]{64})","data":\n/;
const TAIL = '\n}\n';

const sumOf = (json: string | Uint8Array): string =>
  createHash('sha256').update(json).digest('hex');

/** The whole content of a file: one JSON object with format, check sum and data. */
export function fileContent(format: number, json: string): Uint8Array {
  const bytes = Buffer.from(json);
  const head = `{"format":${format},"sum":"${sumOf(bytes)}","data":\n`;
  return Buffer.concat([Buffer.from(head), bytes, Buffer.from(TAIL)]);
}

export type Parsed = { readonly format: number; readonly data: unknown; readonly summed: boolean };

/** @throws Error with the reason where the text is not what was written. */
export function parseText(text: string): Parsed {
  if (text.length === 0) throw new Error('it is empty');
  const head = HEAD.exec(text);
  if (head === null) return parseOldText(text);
  const [whole, format, sum] = head;
  if (!text.endsWith(TAIL)) throw new Error('its end is missing');
  const json = text.slice(whole.length, -TAIL.length);
  if (sumOf(json) !== sum) throw new Error('its content does not fit its check sum');
  return { format: Number(format), data: JSON.parse(json), summed: true };
}

/** Format 0 had no check sum: its data stood beside the format. */
function parseOldText(text: string): Parsed {
  let old: unknown;
  try {
    old = JSON.parse(text);
  } catch {
    throw new Error('it is torn or was written by something else');
  }
  if (typeof old === 'object' && old !== null && 'format' in old && old.format === 0) {
    const { format: _, ...data } = old;
    return { format: 0, data, summed: false };
  }
  throw new Error('it does not begin as a file of this program does');
}

function parseFile<T>(text: string, path: string, form: DurableForm<T>): T {
  let parsed: Parsed;
  try {
    parsed = parseText(text);
  } catch (error) {
    throw damaged(path, error instanceof Error ? error.message : String(error), error);
  }
  if (parsed.format > form.format) {
    throw new StoreTrouble(
      'newer-format',
      `This file has format ${parsed.format}, and this version knows formats up to ${form.format}:`,
      path,
      'It was written by a newer version of the program; start that one.',
    );
  }
  try {
    return form.lift(parsed.format, parsed.data);
  } catch (error) {
    if (error instanceof StoreTrouble) throw error;
    const why = `its form is not that of format ${parsed.format}${whereOf(error)}`;
    // Without a check sum it may be anything; with one it is what some version wrote, and setting it aside would
    // take whole jobs away after a change of the program.
    if (!parsed.summed) throw damaged(path, why, error);
    throw new StoreTrouble(
      'newer-format',
      `A stored file is whole, but ${why}:`,
      path,
      'It was written by another version of the program; start that one. The file was left as it is.',
      error,
    );
  }
}

/** Where in the data a schema found something else than it wanted. */
function whereOf(error: unknown): string {
  if (!(error instanceof z.ZodError)) return '';
  const issue = error.issues[0];
  return issue === undefined ? '' : ` (${issue.path.join('.')}: ${issue.message})`;
}

/** The trouble of a file that cannot be believed; `why` continues "because". */
export const damaged = (path: string, why: string, cause?: unknown): StoreTrouble =>
  new StoreTrouble(
    'damaged',
    `A stored file cannot be read because ${why}:`,
    path,
    'Put it back from a backup.',
    cause,
  );

/** One file as an adapter for lowdb. Reads give null where the file is absent. */
export function durableFile<T>(
  files: FileSeam,
  path: string,
  form: DurableForm<T>,
): DurableFile<T> {
  let size = 0;
  // After a rename whose folder could not be synced, the disk may hold either content until a sync succeeds.
  let inDoubt = false;

  const settleDoubt = async (): Promise<void> => {
    if (!inDoubt) return;
    await files.syncFolder(dirname(path));
    inDoubt = false;
  };

  return {
    size: () => size,
    read: async () => {
      let bytes: Uint8Array;
      try {
        await settleDoubt();
        bytes = await files.read(path);
      } catch (error) {
        if (codeOf(error) === 'ENOENT' && !inDoubt) return null;
        throw diskTrouble(error, 'Reading', path);
      }
      size = bytes.length;
      const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('utf8');
      return parseFile(text, path, form);
    },
    write: async (data) => {
      const bytes = fileContent(form.format, form.json(data));
      const before = form.before?.();
      // It may fail before it is waited for; the wait hands the failure on.
      before?.catch(() => undefined);
      try {
        await writeWhole(files, path, bytes, {
          ...(before === undefined ? {} : { before }),
          renamed: () => {
            inDoubt = true;
          },
        });
        inDoubt = false;
      } catch (error) {
        throw diskTrouble(error, 'Writing', path);
      }
      size = bytes.length;
    },
  };
}
