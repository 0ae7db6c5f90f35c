// The list in a backup, by which one sees that it is whole.
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { z } from 'zod';
import { diskFiles, type FileSeam } from './file-seam.ts';
import { codeOf, StoreTrouble } from './store-trouble.ts';

export const LIST = 'backup.json';
const BackupList = z.strictObject({
  format: z.literal(1),
  madeAt: z.string(),
  /** Where in the backup the store is; left out where it is the backup itself. */
  store: z
    .string()
    .regex(/^[a-z]+$/)
    .exactOptional(),
  files: z.array(z.strictObject({ path: z.string(), bytes: z.number(), sha256: z.string() })),
  /** The end of each job's chain when it was copied, to compare with a record printed then. */
  chains: z.array(z.strictObject({ job: z.string(), events: z.number(), end: z.string() })),
});
export type BackupList = z.infer<typeof BackupList>;

export const sumOf = (bytes: Uint8Array): string =>
  createHash('sha256').update(bytes).digest('hex');

async function isEmpty(files: FileSeam, folder: string): Promise<boolean> {
  try {
    return (await files.names(folder)).length === 0;
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return true;
    throw error;
  }
}

/** @throws StoreTrouble where the folder holds anything. */
export async function needEmpty(files: FileSeam, folder: string): Promise<void> {
  if (await isEmpty(files, folder)) return;
  throw new StoreTrouble(
    'not-fitting',
    'There is something in this folder already:',
    folder,
    'Name a folder that is empty or does not exist yet; nothing was changed.',
  );
}

async function readList(files: FileSeam, backup: string): Promise<BackupList> {
  const path = join(backup, LIST);
  try {
    return BackupList.parse(JSON.parse(Buffer.from(await files.read(path)).toString('utf8')));
  } catch (error) {
    const code = codeOf(error);
    if (code !== undefined && code !== 'ENOENT') throw error;
    throw new StoreTrouble(
      'damaged',
      'This backup has no list that can be read; it was broken off, or is none:',
      path,
      'Take another backup; nothing was changed.',
      error,
    );
  }
}

/** Reads the listed files and compares their hashes. @throws StoreTrouble naming the ones that do not fit. */
export async function checkBackup(
  backup: string,
  files: FileSeam = diskFiles,
): Promise<BackupList> {
  const list = await readList(files, backup);
  const wrong: string[] = [];
  for (const { path, sha256 } of list.files) {
    const outside = path.startsWith('/') || path.split(/[\\/]/).includes('..');
    const bytes = outside ? undefined : await files.read(join(backup, path)).catch(() => undefined);
    if (bytes === undefined || sumOf(bytes) !== sha256) wrong.push(path);
  }
  if (wrong.length === 0) return list;
  throw new StoreTrouble(
    'damaged',
    `${wrong.length} of ${list.files.length} files of this backup are missing or changed (${wrong.slice(0, 5).join(', ')}):`,
    backup,
    'Take another backup; nothing was changed.',
  );
}
