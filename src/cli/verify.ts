// `chargehand verify [JOB]`: follows the chain of hashes over a job's events, or over all jobs. It only reads, so it may
// look at the folder of a running workshop.
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { filesSetAside, listedJobs, verifyFolder } from '../store/read-only.ts';
import { databaseFrom } from './choose-store.ts';
import { complain } from './complain.ts';
import { readEnvHere } from './env-file.ts';
import { jobsFolder } from './job-folder.ts';
import { verifyDatabase } from './verify-database.ts';

const say = (line: string): void => void process.stdout.write(`${line}\n`);

/** Exit 0 every chain is unbroken and no job is missing, 1 something is wrong, 2 wrong use. */
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
  readEnvHere();
  if (databaseFrom(process.env) !== undefined) return verifyDatabase(values.data, wanted);
  const folder = jobsFolder(values.data);
  const listed = new Set([...(await listedJobs(folder))].filter((job) => !job.startsWith('_')));
  const seen = new Set<string>();
  let wrong = 0;
  for await (const { file, job, check } of verifyFolder(folder)) {
    if (job?.startsWith('_') || (wanted !== undefined && job !== undefined && job !== wanted))
      continue;
    if (job !== undefined) seen.add(job);
    if ('todo' in check) {
      wrong += 1;
      say(`${file}: DAMAGED: ${check.what}. ${check.todo}`);
    } else if (check.good) say(`Job ${job}: unbroken, ends in ${check.end}`);
    else {
      wrong += 1;
      say(`Job ${job}: BROKEN at event ${check.at}: ${check.why}`);
    }
  }
  for (const job of listed) {
    if (seen.has(job) || (wanted !== undefined && job !== wanted)) continue;
    seen.add(job);
    wrong += 1;
    say(`Job ${job}: MISSING: the index knows it, its file is gone. Restore it from a backup.`);
  }
  const aside = wanted === undefined ? await filesSetAside(folder) : [];
  for (const name of aside)
    say(
      `${join(folder, 'set-aside', name)}: SET ASIDE at a start, since it could not be read; the reason stands beside it.`,
    );
  if (wanted !== undefined && !seen.has(wanted))
    return complain(
      `There is no job ${wanted.slice(0, 40)} in this folder.`,
      'Check the number and --data.',
    );
  if (seen.size === 0 && aside.length === 0) say('No job is stored in this folder.');
  return wrong + aside.length > 0 ? 1 : 0;
};
