// `chargehand verify [JOB]`: follows the chain of hashes over a job's events, or over all jobs. It only reads, so it may
// look at the folder of a running workshop.
import { parseArgs } from 'node:util';
import { verifyFolder } from '../store/read-only.ts';
import { complain } from './complain.ts';
import { jobsFolder } from './job-folder.ts';

export const run = async (args: readonly string[]): Promise<number> => {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { data: { type: 'string' } },
  });
  const [wanted] = positionals;
  if (positionals.length > 1)
    return complain(
      'Give one job, or none for all.',
      'npx chargehand verify [JOB] [--data FOLDER]',
    );
  let seen = 0;
  let broken = 0;
  for await (const { file, job, check } of verifyFolder(jobsFolder(values.data))) {
    if (job?.startsWith('_') || (wanted !== undefined && job !== wanted)) continue;
    seen += 1;
    if ('todo' in check) {
      broken += 1;
      process.stdout.write(`${file}: DAMAGED: ${check.what}. ${check.todo}\n`);
    } else if (check.good) {
      process.stdout.write(`Job ${job}: unbroken, ends in ${check.end}\n`);
    } else {
      broken += 1;
      process.stdout.write(`Job ${job}: BROKEN at event ${check.at}: ${check.why}\n`);
    }
  }
  if (seen === 0 && wanted !== undefined)
    return complain(
      `There is no job ${wanted.slice(0, 40)} in this folder.`,
      'Check the number and --data.',
    );
  if (seen === 0) process.stdout.write('No job is stored in this folder.\n');
  return broken > 0 ? 1 : 0;
};
