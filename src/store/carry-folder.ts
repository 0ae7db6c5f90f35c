// What the store in a folder gives and takes when it is carried over.
import { join } from 'node:path';
import type { Carry } from './carry.ts';
import { fileNameOf } from './file-name.ts';
import type { JobData } from './job-form.ts';
import { readKeptFile } from './kept-files.ts';
import type { Ground, OpenStore } from './open-store.ts';
import { writeWhole } from './whole-write.ts';

type Parts = Pick<Ground, 'files' | 'folder'> & {
  readonly opened: () => OpenStore;
  readonly read: (job: string) => Promise<JobData | undefined>;
  readonly write: (data: JobData) => Promise<void>;
};

export const folderCarry = ({ files, folder, opened, read, write }: Parts): Carry => {
  const kept = join(folder, 'files');
  const namesIn = (path: string): Promise<readonly string[]> => files.names(path).catch(() => []);
  return {
    where: folder,
    jobs: async () =>
      opened()
        .index.list()
        .map(({ job }) => job),
    job: read,
    takeJob: write,
    marks: async () => opened().marks.all(),
    takeMark: (name, value) => opened().marks.set(name, value),
    waiting: async () => opened().inbox.waiting(),
    takeWaiting: async ({ delivery, acceptedAt }) => {
      await opened().inbox.accept(delivery, acceptedAt);
    },
    seen: async () => [...opened().inbox.seen()],
    takeSeen: async (fingerprints) => {
      opened().inbox.remember(fingerprints);
      await opened().inbox.rewrite();
    },
    files: async function* (job) {
      for (const name of await namesIn(join(kept, fileNameOf(job)))) {
        const bytes = await readKeptFile(files, kept, job, name);
        if (bytes !== undefined) yield { job, name, bytes };
      }
    },
    takeFile: async ({ job, name, bytes }) => {
      await files.makeFolder(join(kept, fileNameOf(job)));
      await writeWhole(files, join(kept, fileNameOf(job), name), bytes);
      await files.syncFolder(kept);
    },
  };
};
