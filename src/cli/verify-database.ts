// The chains of hashes of jobs that are in a database; it only reads, so the processes that share it may be running.
import { StoreTrouble } from '../store/store-trouble.ts';
import { complain } from './complain.ts';
import { onStoppedStore } from './stopped-store.ts';

const say = (line: string): void => void process.stdout.write(`${line}\n`);

/** Exit 0 every chain is unbroken, 1 something is wrong or the job that was asked for is not there. */
export const verifyDatabase = (
  data: string | undefined,
  wanted: string | undefined,
): Promise<number> =>
  onStoppedStore(data, async (store) => {
    const jobs = (await store.carry.jobs()).filter(
      (job) => !job.startsWith('_') && (wanted === undefined || job === wanted),
    );
    let wrong = 0;
    for (const job of jobs) {
      try {
        const check = await store.verify(job);
        if (check?.good) say(`Job ${job}: unbroken, ends in ${check.end}`);
        else {
          wrong += 1;
          say(
            check === undefined
              ? `Job ${job}: MISSING: it went while it was looked at.`
              : `Job ${job}: BROKEN at event ${check.at}: ${check.why}`,
          );
        }
      } catch (error) {
        if (!(error instanceof StoreTrouble) || error.kind !== 'damaged') throw error;
        wrong += 1;
        say(`Job ${job}: DAMAGED: ${error.message}`);
      }
    }
    if (wanted !== undefined && jobs.length === 0)
      return complain(
        `There is no job ${wanted.slice(0, 40)} in the database.`,
        'Check the number, and CHARGEHAND_WORKSHOP where several workshops share it.',
        1,
      );
    if (jobs.length === 0) say('No job of this workshop is stored in the database.');
    return wrong > 0 ? 1 : 0;
  });
