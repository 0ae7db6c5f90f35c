// One file that holds a folder: the tar format of POSIX.1-1988 (ustar), compressed with gzip, so that every machine can
// open it without this program. Names of at most 100 characters, or 155 more in folders before them.
import { createReadStream, createWriteStream } from 'node:fs';
import { open, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { createGunzip, createGzip } from 'node:zlib';
import { diskFiles, type FileSeam } from './file-seam.ts';
import { diskTrouble, StoreTrouble } from './store-trouble.ts';
import { writeWhole } from './whole-write.ts';

const BLOCK = 512;

/** The name in the two fields of the header; undefined where it is too long. */
function splitName(name: string): readonly [name: string, prefix: string] | undefined {
  if (Buffer.byteLength(name) <= 100) return [name, ''];
  for (let at = name.indexOf('/'); at >= 0; at = name.indexOf('/', at + 1)) {
    const [rest, prefix] = [name.slice(at + 1), name.slice(0, at)];
    if (Buffer.byteLength(rest) <= 100 && Buffer.byteLength(prefix) <= 155) return [rest, prefix];
  }
  return undefined;
}

const octal = (value: number, length: number): string =>
  `${value.toString(8).padStart(length - 1, '0')}\0`;

/** The sum of the header's bytes, its own field taken as spaces. */
function sumOf(header: Uint8Array): number {
  let sum = 0;
  for (const [at, byte] of header.entries()) sum += at >= 148 && at < 156 ? 32 : byte;
  return sum;
}

function headerOf(path: string, bytes: number, seconds: number): Buffer {
  const names = splitName(path);
  if (names === undefined) {
    throw new StoreTrouble(
      'not-fitting',
      'The name of this file is too long for a backup in one file:',
      path,
      'Back up into a folder instead.',
    );
  }
  const header = Buffer.alloc(BLOCK);
  header.write(names[0], 0);
  header.write(octal(0o600, 8), 100);
  header.write(octal(0, 8), 108);
  header.write(octal(0, 8), 116);
  header.write(octal(bytes, 12), 124);
  header.write(octal(seconds, 12), 136);
  header.write('0', 156);
  header.write('ustar\0' + '00', 257);
  header.write(names[1], 345);
  header.write(`${sumOf(header).toString(8).padStart(6, '0')}\0 `, 148);
  return header;
}

async function* packed(
  folder: string,
  paths: readonly string[],
  seconds: number,
): AsyncGenerator<Uint8Array> {
  for (const path of paths) {
    const bytes = await diskFiles.read(join(folder, path));
    yield headerOf(path, bytes.length, seconds);
    yield bytes;
    yield Buffer.alloc((BLOCK - (bytes.length % BLOCK)) % BLOCK);
  }
  yield Buffer.alloc(2 * BLOCK);
}

/**
 * Packs files of a folder into one file, synced before it takes its name.
 * @param paths from the folder, with slashes
 * @param now ISO, the time the files are given
 * @throws StoreTrouble where the disk refuses.
 */
export async function packFolder(
  folder: string,
  paths: readonly string[],
  to: string,
  now: string,
): Promise<void> {
  const beside = `${to}.tmp`;
  try {
    const seconds = Math.floor(Date.parse(now) / 1000);
    await pipeline(
      Readable.from(packed(folder, paths, seconds), { objectMode: false }),
      createGzip(),
      createWriteStream(beside, { mode: 0o600 }),
    );
    const file = await open(beside, 'r+');
    await file.sync().finally(() => file.close());
    await rename(beside, to);
    await diskFiles.syncFolder(dirname(to));
  } catch (error) {
    await rm(beside, { force: true }).catch(() => undefined);
    throw diskTrouble(error, 'Writing the backup', to);
  }
}

const textAt = (header: Buffer, from: number, length: number): string => {
  const field = header.subarray(from, from + length);
  const end = field.indexOf(0);
  return field.toString('utf8', 0, end < 0 ? length : end);
};

type Entry = { readonly path: string; readonly bytes: number; readonly isFile: boolean };

/** The entry of a header, undefined for the empty block at the end. */
function entryOf(header: Buffer): Entry | undefined {
  if (header.every((byte) => byte === 0)) return undefined;
  const said = Number.parseInt(textAt(header, 148, 8).trim(), 8);
  const bytes = Number.parseInt(textAt(header, 124, 12).trim(), 8);
  if (said !== sumOf(header) || !Number.isSafeInteger(bytes)) throw new Error('a damaged header');
  const prefix = textAt(header, 345, 155);
  const name = textAt(header, 0, 100);
  const path = (prefix === '' ? name : `${prefix}/${name}`).replace(/^\.\//u, '');
  const outside = path.startsWith('/') || path.split(/[\\/]/u).includes('..');
  if (outside) throw new Error('a name that leads out of the folder');
  return { path, bytes, isFile: header[156] === 0x30 || header[156] === 0 };
}

/**
 * Unpacks such a file into a folder.
 * @throws StoreTrouble where the file is damaged or broken off, or the disk refuses.
 */
export async function unpackFolder(
  file: string,
  folder: string,
  files: FileSeam = diskFiles,
): Promise<void> {
  const source = createReadStream(file);
  const unzipped = source.pipe(createGunzip());
  source.once('error', (error) => unzipped.destroy(error));
  let held = Buffer.alloc(0);
  let entry: Entry | undefined;
  let ended = false;
  /** Takes what is whole; what is not waits for more. */
  const take = async (): Promise<void> => {
    while (!ended) {
      if (entry === undefined) {
        if (held.length < BLOCK) return;
        entry = entryOf(held.subarray(0, BLOCK));
        held = held.subarray(BLOCK);
        ended = entry === undefined;
        continue;
      }
      const padded = Math.ceil(entry.bytes / BLOCK) * BLOCK;
      if (held.length < padded) return;
      if (entry.isFile) {
        const path = join(folder, entry.path);
        await files.makeFolder(dirname(path));
        await writeWhole(files, path, held.subarray(0, entry.bytes));
      }
      held = held.subarray(padded);
      entry = undefined;
    }
  };
  let waiting: Buffer[] = [];
  let size = 0;
  try {
    for await (const piece of unzipped as AsyncIterable<Buffer>) {
      waiting.push(piece);
      size += piece.length;
      // Joined only when an entry can be whole, so that a large file is not copied for each piece.
      if (held.length + size < (entry === undefined ? BLOCK : entry.bytes)) continue;
      held = Buffer.concat([held, ...waiting]);
      [waiting, size] = [[], 0];
      await take();
    }
    held = Buffer.concat([held, ...waiting]);
    await take();
    if (!ended) throw new Error('it is broken off');
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    if (code !== undefined && !/^(?:Z_|ERR_)/u.test(code)) {
      throw diskTrouble(error, 'Reading the backup', file);
    }
    throw new StoreTrouble(
      'damaged',
      `This is no whole backup in one file (${message}):`,
      file,
      'Take another backup; nothing was changed.',
      error,
    );
  }
}
