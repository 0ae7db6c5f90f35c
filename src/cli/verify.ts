// `chargehand verify [JOB]`: follows the chain of hashes over a job's events, or over all jobs.
import { parseArgs } from 'node:util';
import { complain } from './complain.ts';
import { dataFolder, storeIn } from './job-folder.ts';

export const run = async (args: readonly string[]): Promise<number> => {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { data: { type: 'string' } },
  });
  if (positionals.length > 1)
    return complain(
      'Give one job, or none for all.',
      'npx chargehand verify [JOB] [--data FOLDER]',
    );
  const store = storeIn(dataFolder(values.data));
  await store.open();
  try {
    const jobs = positionals[0]
      ? [positionals[0]]
      : (await store.list()).map((entry) => entry.job).filter((job) => !job.startsWith('_'));
    let broken = 0;
    for (const job of jobs) {
      const checked = await store.verify(job);
      if (!checked)
        return complain(
          `There is no job ${job.slice(0, 40)} in this folder.`,
          'Check the number and --data.',
        );
      if (checked.good) process.stdout.write(`Job ${job}: unbroken, ends in ${checked.end}\n`);
      else {
        broken += 1;
        process.stdout.write(`Job ${job}: BROKEN at event ${checked.at}: ${checked.why}\n`);
      }
    }
    if (jobs.length === 0) process.stdout.write('No job is stored in this folder.\n');
    return broken > 0 ? 1 : 0;
  } finally {
    await store.close();
  }
};
