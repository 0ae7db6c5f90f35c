// Opens the store of a workshop that is not running, or its database, for a command that changes what is stored.
import { stat } from 'node:fs/promises';
import { jobFileStore } from '../store/job-file-store.ts';
import { StoreTrouble } from '../store/store-trouble.ts';
import { type ChosenStore, chooseStore, databaseFrom } from './choose-store.ts';
import { dataFolder, jobsFolder } from './job-folder.ts';

/**
 * Runs `work` on the opened store and closes it.
 * @throws StoreTrouble where there is no store, or a running workshop holds it.
 */
export const onStoppedStore = async <T>(
  data: string | undefined,
  work: (store: ChosenStore) => Promise<T>,
): Promise<T> => {
  const folder = jobsFolder(data);
  const isThere = await stat(databaseFrom(process.env) ? dataFolder(data) : folder).then(
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
  const parts = {
    clock: () => new Date().toISOString(),
    // What is thrown is said by the command itself.
    onTrouble: (trouble: StoreTrouble) =>
      trouble.kind === 'locked' ? undefined : void process.stderr.write(`${trouble.message}\n`),
  };
  const top = dataFolder(data);
  const store =
    databaseFrom(process.env) === undefined
      ? jobFileStore(folder, parts)
      : await chooseStore(
          process.env,
          top,
          await (await import('../main.ts')).settingsIn(top),
          parts,
        );
  await store.open();
  try {
    return await work(store);
  } finally {
    await store.close();
  }
};
