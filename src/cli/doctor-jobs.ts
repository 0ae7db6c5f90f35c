// What `doctor` says about the stored jobs, by looking at names only: jobs whose file is gone, and files set aside.
import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Finding } from '../chat/slack/checkup.ts';
import { fileNameOf } from '../store/file-name.ts';
import { filesSetAside, listedJobs } from '../store/read-only.ts';
import { StoreTrouble } from '../store/store-trouble.ts';

const isThere = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );

const few = (names: readonly string[]): string =>
  names.length > 5
    ? `${names.slice(0, 5).join(', ')} and ${names.length - 5} more`
    : names.join(', ');

/** @param folder the store's own, which need not be there yet */
export const jobFindings = async (folder: string): Promise<readonly Finding[]> => {
  if (!(await isThere(folder))) return [];
  try {
    const jobs = [...(await listedJobs(folder))].filter((job) => !job.startsWith('_'));
    const missing: string[] = [];
    for (const job of jobs)
      if (!(await isThere(join(folder, 'jobs', `${fileNameOf(job)}.json`)))) missing.push(job);
    const aside = await filesSetAside(folder);
    const findings: Finding[] = [];
    if (missing.length > 0)
      findings.push({
        good: false,
        what: `The file of ${missing.length === 1 ? 'job' : 'jobs'} ${few(missing)} is gone from ${join(folder, 'jobs')}.`,
        doThis: 'Put it back from a backup; "npx chargehand verify" looks into the others.',
      });
    if (aside.length > 0)
      findings.push({
        good: false,
        what: `${aside.length} damaged ${aside.length === 1 ? 'file was' : 'files were'} set aside in ${join(folder, 'set-aside')}: ${few(aside)}.`,
        doThis:
          'Put the job back from a backup and move what was set aside away; the reason stands beside it.',
      });
    return findings.length > 0
      ? findings
      : [{ good: true, what: `The files of all ${jobs.length} stored jobs are there.` }];
  } catch (error) {
    if (!(error instanceof StoreTrouble)) throw error;
    return [{ good: false, what: `${error.what} ${error.where}`, doThis: error.todo }];
  }
};
