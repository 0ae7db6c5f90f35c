// `verify` on a folder with jobs that are whole, changed, gone and set aside.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { jobFileStore } from '../../src/store/job-file-store.ts';
import { floorOn, keepingChannel, message, OPEN } from '../floor/workshop-floor.ts';
import { runCommand } from './run-command.ts';

let data: string;
const jobsFolder = (): string => join(data, 'jobs');
const fileOf = (job: string): string =>
  join(
    jobsFolder(),
    'jobs',
    readdirSync(join(jobsFolder(), 'jobs')).find((name) => name.includes(job)) ?? '',
  );
const verify = (...args: string[]) => runCommand(['verify', '--data', data, ...args]);

beforeEach(async () => {
  data = mkdtempSync(join(tmpdir(), 'chargehand-verify-'));
  const bench = keepingChannel();
  const floor = await floorOn(jobsFolder(), [bench]);
  for (const [id, text] of [
    ['o1', OPEN],
    ['o2', OPEN.replace('1042', '1043').replace('17', '18')],
  ] as const) {
    await bench.intake().accept(message(id, 'Robin', text));
    await floor.calm();
  }
  await floor.running.stop();
});
afterEach(() => rmSync(data, { recursive: true, force: true }));

describe('verify', () => {
  it('whole jobs are unbroken, exit 0', () => {
    const { code, out } = verify();
    expect(out).toContain('Job 1042: unbroken, ends in ');
    expect(out).toContain('Job 1043: unbroken, ends in ');
    expect(code).toBe(0);
  });

  it('a changed word is found, and where', () => {
    writeFileSync(
      fileOf('1042'),
      readFileSync(fileOf('1042'), 'utf8').replaceAll('bus 17', 'bus 71'),
    );
    const { code, out } = verify();
    expect(out).toMatch(/Job 1042: BROKEN at event 0|DAMAGED/u);
    expect(out).toContain('Job 1043: unbroken');
    expect(code).toBe(1);
  });

  it('a job file that is gone is missed', () => {
    rmSync(fileOf('1042'));
    const { code, out } = verify();
    expect(out).toContain('Job 1042: MISSING');
    expect(code).toBe(1);
    expect(verify('1042').code).toBe(1);
    expect(verify('1043').code).toBe(0);
  });

  it('what a start set aside is named', async () => {
    writeFileSync(fileOf('1042'), readFileSync(fileOf('1042'), 'utf8').slice(0, 100));
    const store = jobFileStore(jobsFolder(), { clock: () => '2026-03-10T08:00:00.000Z' });
    await store.open();
    await store.load('1042').catch(() => undefined);
    await store.close();
    const { code, out } = verify();
    expect(out).toMatch(/SET ASIDE|DAMAGED|MISSING/u);
    expect(code).toBe(1);
  });

  it('an unknown job is wrong use', () => {
    const { code, err } = verify('9999');
    expect(err).toContain('There is no job 9999');
    expect(code).toBe(2);
  });
});
