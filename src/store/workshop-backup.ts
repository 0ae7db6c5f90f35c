// Backup and restore of a workshop's whole data folder: the store, the bench's conversation, the settings, the tools; into
// a folder or into one file. The program may be running while the backup is made.
import { rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { type BackupReport, backupStore } from './backup.ts';
import { checkBackup, LIST } from './backup-list.ts';
import { diskFiles, type FileSeam } from './file-seam.ts';
import { restoreStore } from './restore.ts';
import { codeOf, StoreTrouble } from './store-trouble.ts';
import { packFolder, unpackFolder } from './tar-file.ts';

const STORE = 'jobs';
/**
 * What the bench has taken down and not handed in comes first: handed in again it is known, should the store have it.
 * The bench's conversation comes after the store, so that it has every card that the store calls posted.
 */
const FIRST = ['bench/arrivals.jsonl'];

/** A backup in one file has this ending. */
export const isOneFile = (path: string): boolean => /\.(?:tar\.gz|tgz)$/u.test(path);

async function isThere(path: string): Promise<boolean> {
  try {
    await diskFiles.facts(path);
    return true;
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return false;
    throw error;
  }
}

/**
 * @param to an empty or new folder, or a file that ends in .tar.gz and does not exist yet
 * @param clock ISO time now
 * @throws StoreTrouble where there is no store, the place is taken, or the disk refuses.
 */
export async function backupWorkshop(
  folder: string,
  to: string,
  clock: () => string,
  files: FileSeam = diskFiles,
): Promise<BackupReport> {
  const options = { clock, files, store: STORE, first: FIRST };
  if (!isOneFile(to)) return backupStore(folder, to, options);
  if (await isThere(to)) {
    throw new StoreTrouble(
      'not-fitting',
      'There is such a file already:',
      to,
      'Name another one; nothing was changed.',
    );
  }
  await diskFiles.makeFolder(dirname(to));
  const beside = `${to}.folder`;
  try {
    const report = await backupStore(folder, beside, options);
    const list = await checkBackup(beside);
    await packFolder(beside, [LIST, ...list.files.map(({ path }) => path)], to, clock());
    return report;
  } finally {
    await rm(beside, { recursive: true, force: true });
  }
}

/**
 * Restores a backup, whole or not at all.
 * @param to an empty or new folder
 * @throws StoreTrouble where the backup is damaged, the place is taken, or the disk refuses.
 */
export async function restoreWorkshop(
  backup: string,
  to: string,
  clock: () => string,
): Promise<BackupReport> {
  if (!isOneFile(backup)) return restoreStore(backup, to, { clock });
  const beside = `${to}.unpacking`;
  try {
    await unpackFolder(backup, beside);
    return await restoreStore(beside, to, { clock });
  } finally {
    await rm(beside, { recursive: true, force: true });
  }
}
