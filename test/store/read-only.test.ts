import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { fileContent, parseText } from '../../src/store/durable-file.ts';
import { type FileCheck, readStoredJob, verifyFolder } from '../../src/store/read-only.ts';
import { type FileHarness, fileHarness } from './file-harness.ts';
import { jobOpened, openJob, outboxEntry, posted } from './sample.ts';

describe('reading beside the process that works on the folder', () => {
  let harness: FileHarness;
  beforeEach(async () => {
    harness = await fileHarness();
    for (const job of ['1041', '1042', '1043']) {
      await harness.store.append({
        ...openJob(job, { outbox: [outboxEntry(job, 'a')] }),
        events: [jobOpened(job), posted(1)],
      });
    }
  });
  afterEach(() => harness.end());
  const all = async (): Promise<readonly FileCheck[]> => {
    const checks: FileCheck[] = [];
    for await (const check of verifyFolder(harness.folder)) checks.push(check);
    return checks;
  };

  it('gives the same job as the store', async () => {
    expect(await readStoredJob(harness.folder, '1042')).toEqual(await harness.store.load('1042'));
    expect(await readStoredJob(harness.folder, 'none')).toBeUndefined();
  });

  it('writes nothing, not even a lock', async () => {
    const names = async () => (await readdir(harness.folder, { recursive: true })).sort();
    const before = await names();
    await all();
    await readStoredJob(harness.folder, '1042');
    expect(await names()).toEqual(before);
  });

  it('follows every chain to the end that the store has', async () => {
    const ends = await Promise.all(
      ['1041', '1042', '1043'].map(async (job) => (await harness.store.load(job))?.events[1]?.hash),
    );
    expect((await all()).map((c) => [c.job, 'end' in c.check && c.check.end])).toEqual([
      ['1041', ends[0]],
      ['1042', ends[1]],
      ['1043', ends[2]],
    ]);
  });

  it('names a damaged file and a changed event, and goes on with the others', async () => {
    await harness.damage('1041', 'torn');
    const path = join(harness.folder, 'jobs', 'job-1042.json');
    const { data } = parseText(await readFile(path, 'utf8'));
    const forged = JSON.stringify(data).replace('drained 1 L', 'drained 9 L');
    await writeFile(path, fileContent(1, forged));
    const [torn, changed, good] = await all();
    expect(torn?.check).toMatchObject({ kind: 'damaged' });
    expect(torn?.file).toContain('job-1041.json');
    expect(changed).toMatchObject({ job: '1042', check: { good: false, at: 1 } });
    expect(good).toMatchObject({ job: '1043', check: { good: true } });
    await expect(readStoredJob(harness.folder, '1041')).rejects.toThrow('job-1041.json');
  });

  it('says where there is no data folder', async () => {
    const checks = verifyFolder(`${harness.folder}-none`);
    await expect(checks.next()).rejects.toMatchObject({ kind: 'folder-gone' });
  });
});
