// What a message costs at 100, 1,000 and 10,000 stored jobs, what a start costs then, and a bare synced write of the
// same size beside each, in the same run. `npm run bench` prints it.
import { spawnSync } from 'node:child_process';
import { mkdtemp, open, readFile, rename, rm, stat } from 'node:fs/promises';
import { cpus, tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { performance } from 'node:perf_hooks';
import type { JobEvent } from '../../shared/event.ts';
import { fileNameOf } from '../../src/store/file-name.ts';
import { type JobFileStore, jobFileStore } from '../../src/store/job-file-store.ts';
import { randomFrom } from '../store/random.ts';
import { at, delivery, indexOf, outboxEntry, posted, thread } from '../store/sample.ts';
import { fillStore, jobName } from './fill.ts';
import { type Spread, spread } from './spread.ts';

const COUNTS = [100, 1_000, 10_000] as const;
/** A job in the middle of its life: so many messages recorded, each with what was read from it. */
const MESSAGES_A_JOB = 40;
const MEASURED = 400;
/** Messages go to this many jobs, as many as a large workshop has open. */
const OPEN_JOBS = 80;
const CHILD = join(import.meta.dirname, 'store-start.ts');

export type StoreBench = {
  readonly jobs: number;
  /** Milliseconds: kept in the inbox, that is until the platform may be answered. */
  readonly accept: Spread;
  /** Milliseconds: recorded in its job with a post to make. */
  readonly append: Spread;
  readonly settlePost: Spread;
  /** Milliseconds: the same bytes appended and synced by bare calls. */
  readonly bareLine: Spread;
  /** Milliseconds: a file of the job's size written, synced, renamed, its folder synced, by bare calls. */
  readonly bareFile: Spread;
  readonly startMs: number;
  readonly startAfterCrashMs: number;
  readonly startMegabytes: number;
  readonly bytesPerJob: number;
};

const readOf = (n: number): JobEvent => ({
  id: `bench:${n}-read`,
  at: at(n),
  by: 'Jo',
  kind: 'message-read',
  message: `m${n}`,
  revision: 0,
  pass: 0,
  acts: [
    {
      kind: 'done',
      step: 'drain-coolant',
      positions: ['cylinder 3'],
      quantity: { value: n, unit: 'L' },
      assumed: ['position: the only one on this job'],
      span: [0, 12],
    },
  ],
  relied: [],
});

async function timed(into: number[], work: () => Promise<unknown>): Promise<void> {
  const begin = performance.now();
  await work();
  into.push(performance.now() - begin);
}

async function bareFile(path: string, bytes: Buffer): Promise<void> {
  const file = await open(`${path}.tmp`, 'w');
  await file.write(bytes);
  await file.sync();
  await file.close();
  await rename(`${path}.tmp`, path);
  const folder = await open(dirname(path), 'r');
  await folder.sync();
  await folder.close();
}

type Measured = Pick<
  StoreBench,
  'accept' | 'append' | 'settlePost' | 'bareLine' | 'bareFile' | 'bytesPerJob'
>;

async function measure(store: JobFileStore, folder: string, jobs: number): Promise<Measured> {
  const random = randomFrom(jobs);
  const times = { accept: [], append: [], settlePost: [], bareLine: [], bareFile: [] } as Record<
    'accept' | 'append' | 'settlePost' | 'bareLine' | 'bareFile',
    number[]
  >;
  const line = await open(join(folder, '..', 'bare.jsonl'), 'a');
  let bytesPerJob = 0;
  for (let i = 0; i < MEASURED; i++) {
    const n = 1_000_000 + i;
    const job = jobName(Math.floor(random() * Math.min(jobs, OPEN_JOBS)));
    const d = delivery(n, 'cyl 3 injector out, sleeve stays in');
    await timed(times.accept, () => store.accept(d, at(n)));
    const old = await store.load(job);
    const sign = outboxEntry(job, `sign-${n}`);
    await timed(times.append, () =>
      store.append({
        job,
        expected: old?.version ?? 0,
        events: [posted(n), readOf(n)],
        index: indexOf(job),
        outbox: [sign],
        settles: d.id,
      }),
    );
    await timed(times.settlePost, () => store.settlePost(job, sign.id, undefined));
    // The peers follow at once, so that both meet the same disk.
    const bytes = Buffer.from(`${JSON.stringify({ at: at(n), d })}\n`);
    await timed(times.bareLine, async () => {
      await line.write(bytes);
      await line.datasync();
    });
    const size = (await stat(join(folder, 'jobs', `${fileNameOf(job)}.json`))).size;
    bytesPerJob += size / MEASURED;
    await timed(times.bareFile, () =>
      bareFile(join(folder, '..', 'bare.json'), Buffer.alloc(size, 97)),
    );
  }
  await line.close();
  return {
    accept: spread(times.accept),
    append: spread(times.append),
    settlePost: spread(times.settlePost),
    bareLine: spread(times.bareLine),
    bareFile: spread(times.bareFile),
    bytesPerJob,
  };
}

type Start = { readonly ms: number; readonly megabytes: number; readonly jobs: number };

function startOf(folder: string, how: 'stop' | 'crash'): Start {
  const child = spawnSync(process.execPath, ['--import', 'tsx', CHILD, folder, how], {
    encoding: 'utf8',
  });
  if (child.stdout === '') throw new Error(`The store did not start: ${child.stderr}`);
  return JSON.parse(child.stdout);
}

async function benchAt(top: string, jobs: number, plan: string): Promise<StoreBench> {
  const folder = join(top, String(jobs), 'workshop');
  await fillStore(folder, {
    ...{ jobs, open: OPEN_JOBS, messages: MESSAGES_A_JOB, planText: plan, readOf },
    plan: 'injectors-six-cylinder',
    threadOf: (n) => thread(jobName(n)),
  });
  const store = jobFileStore(folder, { clock: () => at(0) });
  await store.open();
  const measured = await measure(store, folder, jobs);
  await store.close();
  // The first one leaves as a killed process would, with as many jobs awake as there may be.
  const clean = startOf(folder, 'crash');
  const afterCrash = startOf(folder, 'stop');
  await rm(join(top, String(jobs)), { recursive: true });
  return {
    jobs,
    ...measured,
    startMs: clean.ms,
    startMegabytes: Math.max(clean.megabytes, afterCrash.megabytes),
    startAfterCrashMs: afterCrash.ms,
  };
}

const ms = (s: Spread): string => `${s.median.toFixed(2)} / ${s.p99.toFixed(2)}`.padStart(14);

/** Measures and prints; the numbers are given back for whoever states them elsewhere. */
export async function run(): Promise<readonly StoreBench[]> {
  const plan = await readFile(
    join(import.meta.dirname, '../../data/plans/injectors-six-cylinder.yaml'),
    'utf8',
  );
  const top = await mkdtemp(join(tmpdir(), 'chargehand-bench-'));
  const results: StoreBench[] = [];
  try {
    for (const jobs of COUNTS) results.push(await benchAt(top, jobs, plan));
  } finally {
    await rm(top, { recursive: true, force: true });
  }
  const machine = `Node ${process.version}, ${cpus().length} × ${cpus()[0]?.model ?? 'unknown'}`;
  console.log(`Store: cost of a message, in milliseconds, median / 99th percentile (${machine})`);
  console.log(
    `${MEASURED} messages one after the other to ${OPEN_JOBS} jobs of ${MESSAGES_A_JOB} messages; bare: the same bytes by bare system calls`,
  );
  console.log(
    '   jobs          kept   bare append      recorded    bare write   post settled   start  after crash   memory   a job',
  );
  for (const r of results) {
    console.log(
      `${String(r.jobs).padStart(7)}${ms(r.accept)}${ms(r.bareLine)}${ms(r.append)}${ms(r.bareFile)}${ms(r.settlePost)}` +
        `${`${Math.round(r.startMs)} ms`.padStart(9)}${`${Math.round(r.startAfterCrashMs)} ms`.padStart(12)}` +
        `${`${Math.round(r.startMegabytes)} MB`.padStart(10)}${`${Math.round(r.bytesPerJob / 1000)} kB`.padStart(8)}`,
    );
  }
  const [first] = results;
  const last = results.at(-1);
  if (first !== undefined && last !== undefined) {
    const whole = (r: StoreBench): number => r.accept.median + r.append.median;
    const bare = (r: StoreBench): number => r.bareLine.median + r.bareFile.median;
    const change = (100 * whole(last)) / whole(first) - 100;
    const disk = (100 * bare(last)) / bare(first) - 100;
    console.log(
      `From ${first.jobs} to ${last.jobs} jobs the cost of a message changed by ${change.toFixed(0)} %; the cost of the bare calls changed by ${disk.toFixed(0)} % meanwhile.`,
    );
    console.log(
      `The limit is one synced append and one synced replacement: a message takes ${(whole(last) / bare(last)).toFixed(2)} times that.`,
    );
  }
  return results;
}

if (process.argv[1] === import.meta.filename) await run();
