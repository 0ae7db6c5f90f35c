// The data folder of a command. A folder that a running workshop holds is refused, naming who holds it.
import { join, resolve } from 'node:path';
import { type JobFileStore, jobFileStore } from '../store/job-file-store.ts';

export const dataFolder = (given: string | undefined): string =>
  resolve(given ?? process.env.CHARGEHAND_DATA ?? 'workshop');

/** @returns the store of a data folder; throws what `open` throws, with what and what to do */
export const storeIn = (folder: string): JobFileStore =>
  jobFileStore(join(folder, 'jobs'), { clock: () => new Date().toISOString() });
