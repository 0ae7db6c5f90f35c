// The data folder of a command, and where its jobs are.
import { join, resolve } from 'node:path';

export const dataFolder = (given: string | undefined): string =>
  resolve(given ?? process.env.CHARGEHAND_DATA ?? 'workshop');

export const jobsFolder = (given: string | undefined): string => join(dataFolder(given), 'jobs');
