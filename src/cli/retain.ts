// `chargehand retain --days N`: the words of messages go once their job is over for so many days.
import { parseArgs } from 'node:util';
import { limitOf, removeOldTexts, threadsToKeep } from '../floor/retention.ts';
import { counted } from './backup.ts';
import { removeOldFromBench } from './bench-removal.ts';
import { complain } from './complain.ts';
import { readEnvHere } from './env-file.ts';
import { dataFolder } from './job-folder.ts';
import { onStoppedStore } from './stopped-store.ts';

const USAGE = 'npx chargehand retain --days N [--data FOLDER]';

/** Exit 0 done, 1 not done or not for every job, 2 wrong use. */
export const run = async (
  args: readonly string[],
  now: string = new Date().toISOString(),
): Promise<number> => {
  const { values } = parseArgs({
    args: [...args],
    options: { days: { type: 'string' }, data: { type: 'string' } },
  });
  const days = Number(values.days);
  if (values.days === undefined || !Number.isInteger(days) || days < 1)
    return complain('Say for how many days words are kept: a whole number, 1 or more.', USAGE);
  readEnvHere();
  let failed = 0;
  const limit = limitOf(now, days);
  const { removed, lines } = await onStoppedStore(values.data, async (store) => {
    const one = (job: string, error: Error): void => {
      failed += 1;
      process.stderr.write(`Job ${job} was left as it is: ${error.message}\n`);
    };
    const kept = threadsToKeep(await store.list(), limit);
    return {
      removed: await removeOldTexts(store, days, now, one, true),
      lines: await removeOldFromBench(store, dataFolder(values.data), limit, kept),
    };
  });
  process.stdout.write(
    `Removed the words of ${counted(removed.events, 'event')} in ${counted(removed.jobs, 'job')}, and of ${counted(lines, 'line')} on the bench: jobs over before ${limit}.\nWhat was done, by whom and when, stays; "npx chargehand verify" follows the chain. Backups and photos were not touched.\n`,
  );
  return failed > 0 ? 1 : 0;
};
