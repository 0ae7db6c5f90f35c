// A process under load is killed at random moments and started again. CHARGEHAND_KILLS sets how often.
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { jobFileStore } from '../../src/store/job-file-store.ts';
import { newFolder } from './file-harness.ts';
import { randomFrom } from './random.ts';
import { at } from './sample.ts';

const KILLS = Number(process.env.CHARGEHAND_KILLS ?? 3);
const CHILD = join(import.meta.dirname, 'kill-child.ts');
/** Jobs whose files grow without end would measure the disk and not the kills. */
const KILLS_A_FOLDER = 50;

type Platform = {
  next: number;
  readonly sent: Set<number>;
  readonly acknowledged: Set<number>;
  readonly posted: Map<string, number>;
  readonly trouble: string[];
};

function start(folder: string, platform: Platform, onLine: () => void): ChildProcess {
  const child = spawn(process.execPath, ['--import', 'tsx', CHILD, folder], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  createInterface({ input: child.stdout }).on('line', (line) => {
    const [word = '', rest = ''] = line.split(' ');
    if (word === 'ack') platform.acknowledged.add(Number(rest));
    else if (word === 'post') platform.posted.set(rest, (platform.posted.get(rest) ?? 0) + 1);
    else if (word === 'damaged' || word === 'failed') platform.trouble.push(line);
    onLine();
  });
  // What the killed one does not take any more is sent again to the next.
  child.stdin.on('error', () => undefined);
  return child;
}

const deliver = (child: ChildProcess, n: number): void => {
  child.stdin?.write(`deliver ${n}\n`);
};

/** Runs the process until it has said a random number of things, then kills it. */
async function killedRun(folder: string, platform: Platform, random: () => number): Promise<void> {
  let left = 1 + Math.floor(random() * 80);
  const child: ChildProcess = start(folder, platform, () => {
    left -= 1;
    if (left === 0) child.kill('SIGKILL');
  });
  const closed = once(child, 'close');
  child.stdin?.write(`channel ${[...platform.posted.keys()].join(',')}\n`);
  // What was never acknowledged comes again, as platforms do it, and some of the others twice.
  for (const n of platform.sent) {
    if (!platform.acknowledged.has(n) || random() < 0.02) deliver(child, n);
  }
  for (let i = 0; i < 40; i++) {
    platform.next += 1;
    platform.sent.add(platform.next);
    deliver(child, platform.next);
    if (random() < 0.1) deliver(child, platform.next);
  }
  // It falls silent when all is done; a kill then is one at rest.
  child.stdin?.end();
  await closed;
}

async function finish(folder: string, platform: Platform): Promise<void> {
  const child = start(folder, platform, () => undefined);
  child.stdin?.write(`channel ${[...platform.posted.keys()].join(',')}\n`);
  for (const n of platform.sent) deliver(child, n);
  const closed = once(child, 'close');
  child.stdin?.end('finish\n');
  await closed;
  expect(child.exitCode).toBe(0);
}

async function check(folder: string, platform: Platform, done: boolean): Promise<void> {
  expect(platform.trouble).toEqual([]);
  const store = jobFileStore(folder, { clock: () => at(0) });
  const opened = await store.open();
  expect(opened.setAside).toEqual([]);
  const times = new Map<number, number>();
  const count = (id: string): void => {
    const n = Number(id.replace(/\D+/g, ''));
    times.set(n, (times.get(n) ?? 0) + 1);
  };
  const waiting = await store.waiting();
  for (const { delivery: d } of waiting) count(d.id);
  for (const { job } of await store.list()) {
    expect(await store.verify(job)).toMatchObject({ good: true });
    for (const { event } of (await store.load(job))?.events ?? []) {
      if (event.kind === 'message-posted') count(event.message);
    }
  }
  for (const n of platform.acknowledged) expect([n, times.get(n)]).toEqual([n, 1]);
  for (const [n, c] of times) expect([n, c]).toEqual([n, 1]);
  for (const [id, c] of platform.posted) expect([id, c]).toEqual([id, 1]);
  if (done) {
    expect(waiting).toEqual([]);
    expect(await store.outbox()).toEqual([]);
    expect(times.size).toBe(platform.sent.size);
    expect(platform.posted.size).toBe(platform.sent.size);
  }
  await store.close();
  expect((await readdir(folder)).includes('set-aside')).toBe(false);
}

describe('a process killed at random moments', () => {
  let top: string;
  beforeEach(async () => {
    top = await newFolder();
  });
  afterEach(() => rm(top, { recursive: true, force: true }));

  it(
    `${KILLS} kills: every acknowledged delivery is there once, every card is posted once, no file is damaged`,
    async () => {
      const random = randomFrom(2031);
      for (let killed = 0; killed < KILLS; killed += KILLS_A_FOLDER) {
        const folder = join(top, `workshop-${killed}`);
        const platform: Platform = {
          next: 0,
          sent: new Set(),
          acknowledged: new Set(),
          posted: new Map(),
          trouble: [],
        };
        const here = Math.min(KILLS_A_FOLDER, KILLS - killed);
        for (let i = 1; i <= here; i++) {
          await killedRun(folder, platform, random);
          // Not after each, so that a start after a crash is killed as well.
          if (i % 3 === 0) await check(folder, platform, false);
        }
        await finish(folder, platform);
        await check(folder, platform, true);
        expect(platform.acknowledged.size).toBeGreaterThan(0);
      }
    },
    30_000 + KILLS * 5_000,
  );
});
