// What may not grow: the inbox file, the keys it remembers, the jobs a start after a crash reads, the jobs in memory.
import { stat } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { thisMachine } from '../../src/store/folder-lock.ts';
import { openInbox } from '../../src/store/inbox.ts';
import { REMEMBERED_KEYS } from '../../src/store/inbox-lines.ts';
import { type JobFileStore, jobFileStore } from '../../src/store/job-file-store.ts';
import { CACHE_FILE_BYTES } from '../../src/store/job-files.ts';
import { fileHarness } from './file-harness.ts';
import { memoryDisk } from './memory-disk.ts';
import { at, delivery, indexOf, openJob, outboxEntry, posted, thread } from './sample.ts';

/** A store on a disk in memory, so that thousands of jobs are quick; it counts how often a job's file is read. */
function counted(): {
  readonly start: () => JobFileStore;
  readonly reads: Map<string, number>;
  readonly size: (path: string) => Promise<number>;
} {
  const disk = memoryDisk();
  const reads = new Map<string, number>();
  let pid = 0;
  return {
    reads,
    size: async (path) => (await disk.files.facts(path)).size,
    start: () => {
      pid += 1;
      const me = pid;
      return jobFileStore('/workshop', {
        clock: () => at(0),
        files: {
          ...disk.files,
          read: async (path) => {
            if (path.includes('/job-')) reads.set(path, (reads.get(path) ?? 0) + 1);
            return disk.files.read(path);
          },
        },
        machine: { ...thisMachine, pid: me, alive: (other) => other === me, started: () => '' },
      });
    },
  };
}

const settled = async (store: JobFileStore): Promise<void> => {
  for (let i = 0; i < 50; i++) await new Promise((resolve) => setImmediate(resolve));
  expect(await store.list()).not.toEqual([]);
};

describe('with many jobs', () => {
  it('a start after a planned stop reads no job, one after a crash only those that were awake', async () => {
    const { start, reads } = counted();
    let store = start();
    await store.open();
    for (let n = 0; n < 700; n++) {
      await store.append(
        openJob(`j${n}`, {
          settles: `bench:${n}`,
          threads: [thread(`j${n}`)],
          ...(n === 3 ? { outbox: [outboxEntry('j3', 'flag')] } : {}),
        }),
      );
    }
    await settled(store);
    reads.clear();

    store = start();
    await store.open();
    expect(reads.size).toBeLessThanOrEqual(201);
    expect(reads.size).toBeGreaterThan(1);
    expect(await store.list()).toHaveLength(700);
    expect((await store.outbox()).map((entry) => entry.id)).toEqual(['j3/flag/bench']);
    for (const n of [0, 350, 699]) {
      const t = thread(`j${n}`);
      expect(await store.jobOfThread(t.channel, t.team, t.place, t.thread)).toBe(`j${n}`);
    }
    await store.close();
    reads.clear();

    store = start();
    await store.open();
    // The one with a post still to be made is looked at each time.
    expect([...reads.keys()]).toEqual(['/workshop/jobs/job-j3.json']);
    expect(await store.list()).toHaveLength(700);
  });

  it('a job that changes after it was put to sleep is awake again', async () => {
    const { start } = counted();
    let store = start();
    await store.open();
    for (let n = 0; n < 400; n++) await store.append(openJob(`j${n}`));
    await settled(store);
    await store.accept(delivery(1), at(1));
    await store.append({
      job: 'j0',
      expected: 1,
      events: [posted(1)],
      index: indexOf('j0', { status: 'closed' }),
      settles: 'bench:1',
      outbox: [outboxEntry('j0', 'late')],
    });
    store = start();
    await store.open();
    expect((await store.outbox()).map((entry) => entry.id)).toEqual(['j0/late/bench']);
    expect(await store.waiting()).toEqual([]);
    expect((await store.list()).find((entry) => entry.job === 'j0')?.status).toBe('closed');
  });

  it('jobs in memory are bounded by the length of their files', async () => {
    const { start, reads } = counted();
    const store = start();
    await store.open();
    const text = 'x'.repeat(1_000_000);
    const jobs = Math.ceil(CACHE_FILE_BYTES / 1_000_000) + 10;
    for (let n = 0; n < jobs; n++) {
      const job = `j${n}`;
      await store.append({ ...openJob(job), events: [...openJob(job).events, posted(1, text)] });
    }
    reads.clear();
    await store.load(`j${jobs - 1}`);
    expect(reads.size).toBe(0);
    await store.load('j0');
    expect(reads.get('/workshop/jobs/job-j0.json')).toBe(1);
    expect((await store.load('j0'))?.events).toHaveLength(2);
  });

  it('asking for jobs that are not there leaves nothing behind, and asks the disk each time', async () => {
    const { start, reads } = counted();
    const store = start();
    await store.open();
    for (const job of ['a', 'b', 'a']) expect(await store.load(job)).toBeUndefined();
    expect(reads.get('/workshop/jobs/job-a.json')).toBe(2);
  });
});

describe('the inbox', () => {
  it('is written anew after 10,000 lines, and what is settled is gone from it', async () => {
    const { start, size } = counted();
    let store = start();
    await store.open();
    let largest = 0;
    for (let n = 0; n < 11_000; n += 500) {
      await Promise.all(
        Array.from({ length: 500 }, async (_, i) => {
          await store.accept(delivery(n + i), at(n + i));
          await store.settle(`bench:${n + i}`);
        }),
      );
      largest = Math.max(largest, await size('/workshop/inbox.jsonl'));
    }
    expect(await size('/workshop/inbox.jsonl')).toBeLessThan(largest * 0.6);
    expect(await store.accept(delivery(1), at(1))).toBe('seen');
    store = start();
    await store.open();
    expect(await store.waiting()).toEqual([]);
    expect(await store.accept(delivery(10_999), at(1))).toBe('seen');
  });

  it('remembers the newest keys within the stated window, also on the disk', async () => {
    const disk = memoryDisk();
    await disk.files.makeFolder('/w');
    const open = async () =>
      (
        await openInbox(
          disk.files,
          '/w/inbox.jsonl',
          () => undefined,
          async () => undefined,
        )
      ).inbox;
    let inbox = await open();
    inbox.remember(Array.from({ length: REMEMBERED_KEYS + 100 }, (_, i) => `key-${i}`));
    expect(await inbox.accept(delivery(1), at(1))).toBe('new');
    await inbox.settle('bench:1');
    await inbox.rewrite();
    await inbox.close();
    inbox = await open();
    expect(await inbox.accept(delivery(1), at(1))).toBe('seen');
    await inbox.close();
    const text = Buffer.from(await disk.files.read('/w/inbox.jsonl')).toString('utf8');
    expect(text).not.toContain('"key-101"');
    expect(text).toContain('"key-102"');
  });
});

describe('a crash while a damaged inbox is being mended', () => {
  it('killed at any point, the next start still finds posts, settled deliveries and the damaged line', async () => {
    const { readFile, readdir, writeFile } = await import('node:fs/promises');
    const { join } = await import('node:path');
    for (let n = 1; ; n++) {
      expect(n).toBeLessThan(100);
      const harness = await fileHarness();
      await harness.store.accept(delivery(1), at(1));
      await harness.store.append(
        openJob('1042', { settles: 'bench:1', outbox: [outboxEntry('1042', 'a')] }),
      );
      await harness.store.close();
      const path = join(harness.folder, 'inbox.jsonl');
      const text = await readFile(path, 'utf8');
      await writeFile(path, text.replace('"awake"', '"awoke"'));
      harness.killAt(n);
      const opened = await harness.restart().then(
        () => true,
        () => false,
      );
      const store = await harness.crash();
      expect((await store.outbox()).map((entry) => entry.id)).toEqual(['1042/a/bench']);
      expect(await store.waiting()).toEqual([]);
      const aside = await readdir(join(harness.folder, 'set-aside'));
      expect(aside.some((name) => name.includes('lines-of-inbox'))).toBe(true);
      expect((await stat(path)).size).toBeGreaterThan(0);
      await harness.end();
      if (opened) break;
    }
  });
});

describe('marks and settled deliveries', () => {
  it('a mark set again and again does not make its file grow without end', async () => {
    const { start, size } = counted();
    let store = start();
    await store.open();
    await store.setMark('kept', 'x');
    let largest = 0;
    for (let n = 0; n < 3_000; n++) {
      await store.setMark('seen', String(n));
      largest = Math.max(largest, await size('/workshop/marks.jsonl'));
    }
    const line = (await size('/workshop/marks.jsonl')) / 3_000;
    expect(largest).toBeLessThan(1_100 * 70);
    expect(line).toBeLessThan(70);
    store = start();
    await store.open();
    expect([await store.mark('kept'), await store.mark('seen')]).toEqual(['x', '2999']);
  });

  it('a job that only answers does not grow with the deliveries it has settled', async () => {
    const { start, size } = counted();
    const store = start();
    await store.open();
    const sizes: number[] = [];
    for (let n = 0; n < 1_400; n++) {
      await store.append({
        job: '-',
        expected: 0,
        events: [],
        index: indexOf('-'),
        settles: `d${n}`,
      });
      sizes.push(await size('/workshop/jobs/job--.json'));
    }
    expect(sizes.at(-1)).toBe(sizes[1_100]);
    expect(sizes[500]).toBeGreaterThan(sizes[100] ?? 0);
  });
});
