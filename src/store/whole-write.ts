// One file replaced as a whole, so that a reader finds the old content or the new, never a part.
import { basename, dirname, join } from 'node:path';
import type { FileSeam } from './file-seam.ts';

/** Where the new content waits before it takes the name; left over only by a process that was killed. */
export const waitingName = (path: string): string => join(dirname(path), `.${basename(path)}.tmp`);

export const isWaitingName = (name: string): boolean =>
  name.startsWith('.') && name.endsWith('.tmp');

export type WholeWrite = { readonly renamed: () => void; readonly before?: Promise<unknown> };

/**
 * Writes beside, syncs, renames, syncs the folder.
 * @param watch `before` has to be done before the rename; `renamed` is told when the name has changed hands, for from
 * then on a failure leaves in doubt which content the disk has.
 * @throws the error of the operating system; before the rename the old content stands.
 */
export async function writeWhole(
  files: FileSeam,
  path: string,
  bytes: Uint8Array,
  watch?: WholeWrite,
): Promise<void> {
  const waiting = waitingName(path);
  try {
    const file = await files.open(waiting, 'new');
    try {
      await file.write(bytes);
      await file.sync();
    } finally {
      await file.close();
    }
    await watch?.before;
    await files.rename(waiting, path);
  } catch (error) {
    // The failed attempt takes room on a disk that may be full; when even removing fails, the next start removes it.
    await files.remove(waiting).catch(() => undefined);
    throw error;
  }
  watch?.renamed();
  await files.syncFolder(dirname(path));
}
