// Restoring a data folder from a backup.
import { dirname, join } from 'node:path';
import type { BackupOptions, BackupReport } from './backup.ts';
import { checkBackup, needEmpty } from './backup-list.ts';
import { diskFiles } from './file-seam.ts';
import { LOOK_MARK, RESTORED } from './open-store.ts';
import { diskTrouble } from './store-trouble.ts';
import { writeWhole } from './whole-write.ts';

/**
 * Restores a backup into an empty or new folder, whole or not at all. Posts that waited when it was made count as
 * unclear, so that the channel looks for them before it posts them again.
 * @throws StoreTrouble where the backup is damaged, the place is taken, or the disk refuses.
 */
export async function restoreStore(
  backup: string,
  to: string,
  options: BackupOptions,
): Promise<BackupReport> {
  const files = options.files ?? diskFiles;
  try {
    const list = await checkBackup(backup, files);
    await needEmpty(files, to);
    const beside = `${to}.restoring-${options.clock().replace(/[^0-9A-Za-z]+/g, '-')}`;
    await needEmpty(files, beside);
    await files.makeFolder(beside);
    await files.makeFolder(join(beside, list.store ?? ''));
    await writeWhole(files, join(beside, list.store ?? '', LOOK_MARK), Buffer.from(RESTORED));
    for (const { path } of list.files) {
      await files.makeFolder(join(beside, dirname(path)));
      await writeWhole(files, join(beside, path), await files.read(join(backup, path)));
    }
    // An empty folder gives way to one that is renamed to its name.
    await files.rename(beside, to);
    await files.syncFolder(dirname(to));
    return {
      jobs: list.chains.length,
      files: list.files.length,
      bytes: list.files.reduce((sum, f) => sum + f.bytes, 0),
      damaged: [],
    };
  } catch (error) {
    throw diskTrouble(error, 'Restoring the backup', to);
  }
}
