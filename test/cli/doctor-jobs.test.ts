// The doctor sees what a start left behind: a job whose file is gone, and files that were set aside.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { jobFindings } from '../../src/cli/doctor-jobs.ts';
import { fileNameOf } from '../../src/store/file-name.ts';
import { jobFileStore } from '../../src/store/job-file-store.ts';
import { at, openJob } from '../store/sample.ts';

let folder: string;
const fileOf = (job: string): string => join(folder, 'jobs', `${fileNameOf(job)}.json`);
const open = async (): Promise<void> => {
  const store = jobFileStore(folder, { clock: () => at(0) });
  await store.open();
  await store.close();
};

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'chargehand-doctor-'));
  const store = jobFileStore(folder, { clock: () => at(0) });
  await store.open();
  for (const job of ['1042', '1043']) await store.append(openJob(job));
  await store.close();
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

it('whole jobs are said to be there; a folder that is not there yet says nothing', async () => {
  expect(await jobFindings(folder)).toEqual([
    { good: true, what: 'The files of all 2 stored jobs are there.' },
  ]);
  expect(await jobFindings(join(folder, 'none'))).toEqual([]);
});

it('a job whose file was deleted is named', async () => {
  rmSync(fileOf('1042'));
  const [finding, ...others] = await jobFindings(folder);
  expect(others).toEqual([]);
  expect(finding).toMatchObject({ good: false, what: expect.stringContaining('job 1042 is gone') });
});

it('a damaged file is found after a start has set it aside', async () => {
  writeFileSync(fileOf('1043'), 'torn');
  // What makes a start look at every job.
  writeFileSync(join(folder, 'look-at-all.mark'), 'damaged');
  await open();
  const says = (await jobFindings(folder)).map((each) => [each.good, each.what]);
  expect(says).toEqual([
    [false, expect.stringContaining('job 1043 is gone')],
    [false, expect.stringMatching(/^1 damaged file was set aside/u)],
  ]);
});

it('an index that cannot be looked at is said in words', async () => {
  rmSync(join(folder, 'index.jsonl'));
  mkdirSync(join(folder, 'index.jsonl'));
  const [finding] = await jobFindings(folder);
  expect(finding?.good).toBe(false);
});
