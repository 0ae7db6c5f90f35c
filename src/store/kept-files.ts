// Photos and files kept beside a job under the hash of their content.
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { damaged } from './durable-file.ts';
import { fileNameOf } from './file-name.ts';
import type { FileSeam } from './file-seam.ts';
import { codeOf, diskTrouble, StoreTrouble } from './store-trouble.ts';
import { writeWhole } from './whole-write.ts';

const ENDINGS: Readonly<Record<string, string>> = {
  'image/jpeg': 'jpg',
  'image/png': 'png',
  'image/webp': 'webp',
  'image/gif': 'gif',
  'image/heic': 'heic',
  'image/avif': 'avif',
  'application/pdf': 'pdf',
  'text/plain': 'txt',
  'text/csv': 'csv',
  'application/json': 'json',
  'video/mp4': 'mp4',
};
const NAME = /^([0-9a-f]{64})\.[a-z0-9]{1,8}$/;

const sumOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/**
 * The name bytes are kept under: their hash and an ending for their type.
 * @throws StoreTrouble where the hash is not that of the bytes.
 */
export function keptName(sha256: string, type: string, bytes: Uint8Array, where: string): string {
  const ending = Object.hasOwn(ENDINGS, type) ? ENDINGS[type] : undefined;
  if (sumOf(bytes) !== sha256.toLowerCase()) {
    throw new StoreTrouble(
      'not-fitting',
      'A file was handed over with a hash that is not its own:',
      where,
      'Send it again; it may have been cut short on the way.',
    );
  }
  return `${sha256.toLowerCase()}.${ending ?? 'bin'}`;
}

/**
 * Keeps the bytes; the same bytes twice are one file.
 * @returns the name to read them back by.
 * @throws StoreTrouble where the hash is not that of the bytes, or the disk refuses.
 */
export async function keepFile(
  files: FileSeam,
  folder: string,
  job: string,
  sha256: string,
  type: string,
  bytes: Uint8Array,
): Promise<string> {
  const place = join(folder, fileNameOf(job));
  const name = keptName(sha256, type, bytes, place);
  const path = join(place, name);
  try {
    const there = await files.facts(path).catch((error: unknown) => {
      if (codeOf(error) === 'ENOENT') return undefined;
      throw error;
    });
    if (there?.size === bytes.length) return name;
    await files.facts(folder);
    await files.makeFolder(place);
    await writeWhole(files, path, bytes);
    await files.syncFolder(folder);
    return name;
  } catch (error) {
    throw diskTrouble(error, 'Keeping a file', path);
  }
}

/**
 * Reads a kept file; undefined where there is none of that name.
 * @throws StoreTrouble where it is no longer what was kept.
 */
export async function readKeptFile(
  files: FileSeam,
  folder: string,
  job: string,
  name: string,
): Promise<Uint8Array | undefined> {
  const sha256 = NAME.exec(name)?.[1];
  if (sha256 === undefined) return undefined;
  const path = join(folder, fileNameOf(job), name);
  let bytes: Uint8Array;
  try {
    bytes = await files.read(path);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return undefined;
    throw diskTrouble(error, 'Reading a kept file', path);
  }
  if (sumOf(bytes) !== sha256) throw damaged(path, 'its content is no longer what was kept');
  return bytes;
}
