// `chargehand move --to postgres|folder`: carries a stopped workshop's jobs into a database, or back into a folder.
import { mkdir, stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { settingsIn } from '../main.ts';
import { type Carried, carryOver } from '../store/carry.ts';
import { type JobFileStore, jobFileStore } from '../store/job-file-store.ts';
import { postgresStore } from '../store/postgres/postgres-store.ts';
import { StoreTrouble } from '../store/store-trouble.ts';
import { benchFromShelf, benchToShelf, type CarriedBench } from './carry-bench.ts';
import { databaseFrom, workshopKey } from './choose-store.ts';
import { complain } from './complain.ts';
import { readEnvHere } from './env-file.ts';
import { dataFolder, jobsFolder } from './job-folder.ts';

const USAGE =
  'npx chargehand move --to postgres [--data FOLDER], or npx chargehand move --to folder --into A-NEW-FOLDER [--data FOLDER], with CHARGEHAND_DATABASE set.';
const clock = (): string => new Date().toISOString();

const told = (carried: Carried, to: string): string =>
  `Moved ${carried.jobs} jobs with ${carried.events} events, ${carried.files} kept files and ${carried.waiting} waiting deliveries to ${to}; each chain ends as before.\n`;

const toldOf = ({ lines, photos }: CarriedBench): string =>
  lines + photos === 0 ? '' : `With them went ${lines} lines and ${photos} photos of the bench.\n`;

/** The store in the data folder, whatever CHARGEHAND_DATABASE says: that is where the move goes. */
const fromFolder = async <T>(
  data: string | undefined,
  work: (store: JobFileStore) => Promise<T>,
): Promise<T> => {
  const folder = jobsFolder(data);
  if (!(await stat(folder).catch(() => undefined)))
    throw new StoreTrouble(
      'missing',
      'There is no data of this program here:',
      folder,
      'Name the data folder that the program was started with: --data FOLDER.',
    );
  const store = jobFileStore(folder, { clock });
  await store.open();
  try {
    return await work(store);
  } finally {
    await store.close();
  }
};

/** Exit 0 moved and every chain as before, 2 wrong use. Throws StoreTrouble where something is in the way. */
export const run = async (args: readonly string[]): Promise<number> => {
  const { values } = parseArgs({
    args: [...args],
    options: { to: { type: 'string' }, data: { type: 'string' }, into: { type: 'string' } },
  });
  readEnvHere();
  if (values.to !== 'postgres' && values.to !== 'folder')
    return complain('Say where to: postgres or folder.', USAGE);
  const url = databaseFrom(process.env);
  if (url === undefined) return complain('CHARGEHAND_DATABASE is not set.', USAGE);
  const settings = await settingsIn(dataFolder(values.data));
  const database = postgresStore({ url, workshop: workshopKey(process.env, settings), clock });
  await database.open();
  try {
    if (values.to === 'postgres') {
      const carried = await fromFolder(values.data, (store) =>
        carryOver(store.carry, database.carry),
      );
      const bench = await benchToShelf(dataFolder(values.data), database.shared.shelf);
      process.stdout.write(
        `${told(carried, 'the database')}${toldOf(bench)}The folder ${jobsFolder(values.data)} is as it was. Start with CHARGEHAND_DATABASE set from now on, and keep the folder as a backup.\n`,
      );
      return 0;
    }
    if (values.into === undefined) return complain('Say which folder: --into A-NEW-FOLDER.', USAGE);
    const into = resolve(values.into, 'jobs');
    await mkdir(into, { recursive: true });
    const folder = jobFileStore(into, { clock });
    await folder.open();
    try {
      const carried = await carryOver(database.carry, folder.carry);
      const bench = await benchFromShelf(database.shared.shelf, resolve(values.into), folder);
      process.stdout.write(
        `${told(carried, into)}${toldOf(bench)}${bench.people.length > 0 ? `Write those who were taken in into settings.yaml: ${bench.people.join(', ')}.\n` : ''}Put settings.yaml beside it, take CHARGEHAND_DATABASE out and start with --data ${resolve(values.into)}.\n`,
      );
    } finally {
      await folder.close();
    }
    return 0;
  } finally {
    await database.close();
  }
};
