// The power goes at a random moment, again and again, and what was not synced is lost or half there.
import { describe, expect, it } from 'vitest';
import { verifyChain } from '../../src/store/chain.ts';
import { thisMachine } from '../../src/store/folder-lock.ts';
import { type JobFileStore, jobFileStore } from '../../src/store/job-file-store.ts';
import { saltsFrom } from './file-harness.ts';
import { type MemoryDisk, memoryDisk } from './memory-disk.ts';
import { randomFrom } from './random.ts';
import { at, delivery, indexOf, jobOpened, outboxEntry, posted } from './sample.ts';

const JOBS = ['1041', '1042', '1043'];

type Promised = {
  readonly accepted: Set<string>;
  /** Deliveries whose append resolved. */
  readonly recorded: Set<string>;
  readonly postsMade: Set<string>;
  /** Settling was begun: with the power gone before the answer, either is right. */
  readonly postsTried: Set<string>;
  readonly postsSettled: Set<string>;
  readonly marks: string[];
};

/** One start: takes in what waits, then deliveries of its own, until all is done or the power goes. */
async function shift(store: JobFileStore, round: number, promised: Promised): Promise<void> {
  await store.open();
  const record = async (id: string): Promise<void> => {
    const number = id.slice('bench:'.length);
    const job = JOBS[Number(number) % JOBS.length] ?? '1041';
    for (;;) {
      const old = await store.load(job);
      const flag = outboxEntry(job, `flag-${number}`);
      const appended = await store.append({
        job,
        expected: old?.version ?? 0,
        events: old === undefined ? [jobOpened(job), posted(number)] : [posted(number)],
        index: indexOf(job),
        outbox: [flag],
        settles: id,
      });
      if (!appended.ok) continue;
      promised.recorded.add(id);
      promised.postsMade.add(flag.id);
      return;
    }
  };
  for (const { delivery: d } of await store.waiting()) await record(d.id);
  const work = Array.from({ length: 8 }, async (_, i) => {
    const d = delivery(round * 100 + i);
    const answer = await store.accept(d, at(round * 100 + i));
    if (answer === 'new') promised.accepted.add(d.id);
    await record(d.id);
  });
  const post = (async () => {
    for (const entry of await store.outbox()) {
      promised.postsTried.add(entry.id);
      await store.settlePost(entry.job, entry.id, undefined);
      promised.postsSettled.add(entry.id);
    }
    await store.setMark('round', String(round));
    promised.marks.push(String(round));
  })();
  const done = await Promise.allSettled([...work, post]);
  const failed = done.find((result) => result.status === 'rejected');
  if (failed !== undefined) throw failed.reason;
  if (round % 2 === 0) await store.close();
}

async function check(store: JobFileStore, promised: Promised): Promise<void> {
  const opened = await store.open();
  expect(opened.setAside.filter((a) => !a.file.endsWith('inbox.jsonl'))).toEqual([]);
  const times = new Map<string, number>();
  const count = (id: string) => times.set(id, (times.get(id) ?? 0) + 1);
  for (const { delivery: d } of await store.waiting()) count(d.id);
  const inJobs = new Set<string>();
  for (const { job } of await store.list()) {
    const stored = await store.load(job);
    const chain = verifyChain(stored?.events ?? []);
    expect(chain).toMatchObject({ good: true });
    for (const { event } of stored?.events ?? []) {
      if (event.kind !== 'message-posted') continue;
      count(`bench:${event.message.slice(1)}`);
      inJobs.add(`bench:${event.message.slice(1)}`);
    }
  }
  for (const id of promised.accepted) expect([id, times.get(id)]).toEqual([id, 1]);
  for (const [id, n] of times) expect([id, n]).toEqual([id, 1]);
  for (const id of promised.recorded) expect(inJobs).toContain(id);
  const outbox = new Set((await store.outbox()).map((entry) => entry.id));
  for (const id of promised.postsMade) {
    if (!promised.postsTried.has(id)) expect(outbox).toContain(id);
  }
  for (const id of promised.postsSettled) expect(outbox).not.toContain(id);
  const mark = Number((await store.mark('round')) ?? 0);
  expect(mark).toBeGreaterThanOrEqual(Number(promised.marks.at(-1) ?? 0));
}

async function manyCuts(
  seed: number,
  ignore: Parameters<MemoryDisk['ignore']>[0],
): Promise<number> {
  const random = randomFrom(seed);
  const disk = memoryDisk();
  disk.ignore(ignore);
  disk.files.makeFolder('/');
  const promised: Promised = {
    accepted: new Set(),
    recorded: new Set(),
    postsMade: new Set(),
    postsTried: new Set(),
    postsSettled: new Set(),
    marks: [],
  };
  let cuts = 0;
  let starts = 0;
  const newStore = (): JobFileStore => {
    starts += 1;
    const pid = starts;
    return jobFileStore('/workshop', {
      clock: () => at(0),
      salt: saltsFrom(starts * 100_000),
      files: disk.files,
      machine: { ...thisMachine, pid, alive: (other) => other === pid, started: () => '' },
    });
  };
  for (let round = 1; round <= 6; round++) {
    const store = newStore();
    disk.cutAfter(20 + Math.floor(random() * 400));
    await shift(store, round, promised).catch((error: unknown) => {
      if (!disk.isCut()) throw error;
    });
    // What is still under way meets the dead disk before the power is back.
    disk.cutAfter(-1);
    for (let i = 0; i < 200; i++) await new Promise((resolve) => setImmediate(resolve));
    cuts += 1;
    disk.powerBack(random);
    await check(newStore(), promised);
    disk.cutAfter(-1);
    for (let i = 0; i < 50; i++) await new Promise((resolve) => setImmediate(resolve));
    disk.powerBack(random);
  }
  expect(promised.accepted.size).toBeGreaterThan(0);
  return cuts;
}

/** Six cuts for each seed; the whole run sets the number of cuts. */
const SEEDS = Math.ceil(Number(process.env.CHARGEHAND_KILLS ?? 72) / 6);

describe('the power goes at any moment', () => {
  it.each(Array.from({ length: SEEDS }, (_, i) => i + 1))(
    'seed %i: what was acknowledged is there once, and no file is damaged',
    async (seed) => {
      expect(await manyCuts(seed, 'nothing')).toBe(6);
    },
  );

  it.each(['file', 'folder'] as const)(
    'the test itself notices a disk on which syncing a %s does nothing',
    async (what) => {
      const results = await Promise.allSettled(
        Array.from({ length: 6 }, (_, i) => manyCuts(i + 1, what)),
      );
      expect(results.filter((r) => r.status === 'rejected').length).toBeGreaterThan(0);
    },
  );
});
