// `record` as another program uses it, beside a store that holds the folder.
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { JobRecord } from '../../shared/record.ts';
import { run } from '../../src/cli/record.ts';
import { fileContent, parseText } from '../../src/store/durable-file.ts';
import { type JobFileStore, jobFileStore } from '../../src/store/job-file-store.ts';
import { pdfPages } from '../chat/pdf-pages.ts';
import { at } from '../job/story.ts';
import { PLAN, WORK } from '../report/story.ts';
import { runCommand } from './run-command.ts';

const folder = mkdtempSync(join(tmpdir(), 'chargehand-record-'));
const jobs = join(folder, 'jobs');
const out = (name: string): string => join(folder, name);
let store: JobFileStore;

const SETTINGS = `workshop: Harrow Lane depot
zone: Europe/Berlin
people:
  - {name: Sam, roles: [technician]}
  - {name: Ade, roles: [technician]}
  - {name: Wen, roles: [controller]}
`;

beforeAll(async () => {
  writeFileSync(join(folder, 'settings.yaml'), SETTINGS);
  mkdirSync(jobs);
  store = jobFileStore(jobs, { clock: () => at('09:59') });
  await store.open();
  await store.append({
    job: '1042',
    expected: 0,
    events: WORK,
    index: {
      job: '1042',
      vehicle: 'Bus 7',
      plan: 'test-plan',
      status: 'open',
      openedAt: at('07:00'),
      threads: [],
    },
  });
});
afterAll(async () => {
  await store.close();
  rmSync(folder, { recursive: true });
});

/** The command inside this process, which spares the start of another; what it prints is caught. */
const ran = async (...args: readonly string[]) => {
  const printed = { out: '', err: '' };
  const into = (key: 'out' | 'err') => (chunk: unknown, then?: unknown) => {
    printed[key] += String(chunk);
    if (typeof then === 'function') then();
    return true;
  };
  const spies = [
    vi.spyOn(process.stdout, 'write').mockImplementation(into('out')),
    vi.spyOn(process.stderr, 'write').mockImplementation(into('err')),
  ];
  try {
    return { code: await run(args), ...printed };
  } finally {
    for (const spy of spies) spy.mockRestore();
  }
};
const record = (...args: readonly string[]) => ran('1042', '--data', folder, ...args);

describe('record, while a workshop holds the folder', () => {
  it('gives the record as JSON, with the end that the store has, and writes nothing', async () => {
    const before = readdirSync(folder, { recursive: true }).sort();
    const {
      code,
      out: printed,
      err,
    } = runCommand(['record', '1042', '--data', folder, '--format', 'json']);
    expect([code, err]).toEqual([0, '']);
    const read = JobRecord.parse(JSON.parse(printed));
    expect(read.chain.end).toBe((await store.load('1042'))?.events.at(-1)?.hash);
    expect(read.chain.events).toBe(WORK.length);
    expect(read.plan.hash).toBe(PLAN.hash);
    expect(read.zone).toBe('Europe/Berlin');
    expect(read.signOff.checks).toMatchObject([{ by: 'Ade' }]);
    expect(read).not.toHaveProperty('minutes');
    expect(readdirSync(folder, { recursive: true }).sort()).toEqual(before);
  });

  it('writes PDF and CSV to a file', async () => {
    expect(
      await record('--format', 'pdf', '--out', out('r.pdf'), '--paper', 'letter'),
    ).toMatchObject({
      code: 0,
      out: '',
      err: '',
    });
    expect(pdfPages(readFileSync(out('r.pdf')))[0]).toContain('Job 1042: Bus 7');
    expect((await record('--format', 'csv', '--out', out('r.csv'))).code).toBe(0);
    expect(readFileSync(out('r.csv'), 'utf8')).toMatch(
      /^job,vehicle,fact,[^\r\n]*\r\n1042,Bus 7,job,/u,
    );
  });

  it('gives the event log and the claim folder, as text or by the ending of the file', async () => {
    expect(Object.keys(JSON.parse((await record('--format', 'ocel')).out)).sort()).toEqual([
      'eventTypes',
      'events',
      'objectTypes',
      'objects',
    ]);
    const { out: text } = await record('--format', 'claim', '--hours');
    expect(text).toMatch(/Still lacking:\n(?:- .*\n)*- The VIN: read it from the plate\.\n/u);
    expect(text).toContain('Between reports');
    expect((await record('--format', 'claim', '--out', out('c.json'))).code).toBe(0);
    expect(JSON.parse(readFileSync(out('c.json'), 'utf8'))).toHaveProperty('lacks');
  });
});

describe('record, used wrongly', () => {
  it.each([
    [[], 2, 'Give one job.'],
    [['1042', '--format', 'docx'], 2, '"docx" is no format of a record.'],
    [['1042', '--paper', 'a5'], 2, '"a5" is no paper size here.'],
    [['77', '--data', folder], 1, 'There is no job 77 in'],
    [
      ['1042', '--data', folder, '--out', join(folder, 'none', 'r.json')],
      1,
      'The record could not be written to',
    ],
  ] as const)('%j ends with %d: what, and what to do', async (args, code, what) => {
    const made = await ran(...args);
    expect(made.code).toBe(code);
    const [first = '', second = ''] = made.err.split('\n');
    expect(first).toContain(what);
    expect(second).not.toBe('');
  });

  it('makes no record of a job whose chain is broken', async () => {
    const other = mkdtempSync(join(tmpdir(), 'chargehand-broken-'));
    const broken = jobFileStore(join(other, 'jobs'), { clock: () => at('09:59') });
    mkdirSync(join(other, 'jobs'));
    await broken.open();
    await broken.append({
      job: '1042',
      expected: 0,
      events: WORK,
      index: {
        job: '1042',
        vehicle: 'Bus 7',
        plan: 'p',
        status: 'open',
        openedAt: at('07:00'),
        threads: [],
      },
    });
    await broken.close();
    const file = join(other, 'jobs', 'jobs', 'job-1042.json');
    const { format, data } = parseText(readFileSync(file, 'utf8'));
    writeFileSync(
      file,
      fileContent(
        format,
        JSON.stringify(data).replace('faults read, SPN 653', 'faults read, SPN 654'),
      ),
    );
    const { code, err } = await ran('1042', '--data', other);
    expect([code, err.split('\n')[0]]).toEqual([
      1,
      expect.stringContaining('the chain of hashes is broken at event 1'),
    ]);
    rmSync(other, { recursive: true });
  });
});
