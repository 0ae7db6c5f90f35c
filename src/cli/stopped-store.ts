// Opens the store of a workshop that is not running, for a command that changes what is stored.
import { stat } from 'node:fs/promises';
import { type JobFileStore, jobFileStore } from '../store/job-file-store.ts';
import { StoreTrouble } from '../store/store-trouble.ts';
import { jobsFolder } from './job-folder.ts';

/**
 * Runs `work` on the opened store and closes it.
 * @throws StoreTrouble where there is no store, or a running workshop holds it.
 */
export const onStoppedStore = async <T>(
  data: string | undefined,
  work: (store: JobFileStore) => Promise<T>,
): Promise<T> => {
  const folder = jobsFolder(data);
  const isThere = await stat(folder).then(
    () => true,
    () => false,
  );
  if (!isThere)
    throw new StoreTrouble(
      'missing',
      'There is no data of this program here:',
      folder,
      'Name the data folder that the program was started with: --data FOLDER.',
    );
  const store = jobFileStore(folder, {
    clock: () => new Date().toISOString(),
    onTrouble: (trouble) => void process.stderr.write(`${trouble.message}\n`),
  });
  await store.open();
  try {
    return await work(store);
  } finally {
    await store.close();
  }
};
