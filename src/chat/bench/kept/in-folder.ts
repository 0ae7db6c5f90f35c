// The bench in a folder of its own, served by one process.
import { mkdir, readFile, stat } from 'node:fs/promises';
import path from 'node:path';
import type { BenchLog } from '../bench-options.ts';
import { contactSecret } from '../door/contact.ts';
import { openArrivals } from '../talk/arrivals.ts';
import { openConversation } from '../talk/conversation.ts';
import { writeWhole } from '../talk/line-file.ts';
import type { BenchKept, PhotoBytes } from './bench-kept.ts';
import { folderPapers } from './folder-papers.ts';

const folderPhotos = (folder: string): PhotoBytes => ({
  keep: async (name, bytes) => {
    const file = path.join(folder, name);
    if ((await stat(file).catch(() => undefined)) !== undefined) return;
    await writeWhole(file, bytes);
  },
  size: async (name) => (await stat(path.join(folder, name)).catch(() => undefined))?.size,
  read: (name) => readFile(path.join(folder, name)).catch(() => undefined),
});

/** Opens it, making what is missing. Throws, naming the folder, where it cannot be made or read. */
export async function benchInFolder(folder: string, log?: BenchLog): Promise<BenchKept> {
  const photos = path.join(folder, 'photos');
  await mkdir(photos, { recursive: true, mode: 0o700 });
  const conversation = await openConversation(folder, log);
  const arrivals = await openArrivals(folder, log);
  return {
    conversation,
    arrivals,
    papers: folderPapers(folder),
    photos: folderPhotos(photos),
    secret: await contactSecret(folder),
    // Nobody else is at it: what was left is left from before the start.
    begin: (takeLeft) => void takeLeft(),
    close: async () => {
      await conversation.close();
      await arrivals.close();
    },
  };
}
