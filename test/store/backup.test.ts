import { createHash } from 'node:crypto';
import { readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { backupStore } from '../../src/store/backup.ts';
import { checkBackup } from '../../src/store/backup-list.ts';
import { diskFiles, type FileSeam } from '../../src/store/file-seam.ts';
import { type JobFileStore, jobFileStore } from '../../src/store/job-file-store.ts';
import { restoreStore } from '../../src/store/restore.ts';
import { type FileHarness, fileHarness } from './file-harness.ts';
import { at, delivery, indexOf, openJob, outboxEntry, posted, thread } from './sample.ts';

const clock = () => at(0);
const PHOTO = Buffer.from('a photo of a pump');
const PHOTO_SUM = createHash('sha256').update(PHOTO).digest('hex');

describe('backup and restore', () => {
  let harness: FileHarness;
  let store: JobFileStore;
  let backup: string;
  let restored: string;
  const opened: JobFileStore[] = [];

  beforeEach(async () => {
    harness = await fileHarness();
    store = harness.store;
    backup = `${harness.folder}-backup`;
    restored = `${harness.folder}-restored`;
  });
  afterEach(async () => {
    for (const other of opened.splice(0)) await other.close();
    await harness.end();
  });

  const openRestored = async (): Promise<JobFileStore> => {
    const other = jobFileStore(restored, { clock });
    opened.push(other);
    await other.open();
    return other;
  };

  it('the drill: back up a working store, lose its folder, restore, and find everything', async () => {
    await store.accept(delivery(1), at(1));
    await store.accept(delivery(2), at(2));
    await store.append(
      openJob('1042', {
        settles: 'bench:1',
        threads: [thread('1042')],
        outbox: [outboxEntry('1042', 'flag', { urgent: true })],
      }),
    );
    const photo = await store.keepFile('1042', PHOTO_SUM, 'image/jpeg', PHOTO);
    await store.setMark('shift', 'early');
    await writeFile(join(harness.folder, 'settings.yaml'), 'workshop: Harrow Lane depot\n');
    const before = await store.load('1042');

    const report = await backupStore(harness.folder, backup, { clock });
    expect(report).toMatchObject({ jobs: 1, damaged: [] });
    await store.close();
    await rm(harness.folder, { recursive: true });
    await restoreStore(backup, restored, { clock });

    const again = await openRestored();
    expect((await again.load('1042'))?.events).toEqual(before?.events);
    expect((await again.waiting()).map((w) => w.delivery.id)).toEqual(['bench:2']);
    expect(await again.accept(delivery(1), at(9))).toBe('seen');
    const t = thread('1042');
    expect(await again.jobOfThread(t.channel, t.team, t.place, t.thread)).toBe('1042');
    expect(await again.mark('shift')).toBe('early');
    expect(Buffer.from((await again.readFile('1042', photo)) ?? [])).toEqual(PHOTO);
    expect(await readFile(join(restored, 'settings.yaml'), 'utf8')).toContain('Harrow Lane');
    // It may have been posted since the backup, so the channel has to look first.
    expect((await again.outbox()).map((e) => [e.id, e.state])).toEqual([
      ['1042/flag/bench', 'unclear'],
    ]);
    expect(await again.verify('1042')).toEqual(
      expect.objectContaining({ good: true, end: before?.events.at(-1)?.hash }),
    );
  });

  it('a backup taken while messages arrive loses and doubles none that was there before', async () => {
    const process = async (n: number): Promise<void> => {
      await store.accept(delivery(n), at(n));
      const job = `10${n % 4}`;
      for (;;) {
        const old = await store.load(job);
        const events = old === undefined ? [...openJob(job).events, posted(n)] : [posted(n)];
        const done = await store.append({
          job,
          expected: old?.version ?? 0,
          events,
          index: indexOf(job),
          settles: `bench:${n}`,
        });
        if (done.ok) return;
      }
    };
    for (let n = 0; n < 20; n++) await process(n);
    const running = (async () => {
      for (let n = 20; n < 60; n++) await process(n);
    })();
    await backupStore(harness.folder, backup, { clock });
    await running;
    await restoreStore(backup, restored, { clock });
    const again = await openRestored();
    const times = new Map<string, number>();
    for (const { delivery: d } of await again.waiting()) times.set(d.id, 1);
    for (const { job } of await again.list()) {
      for (const { event } of (await again.load(job))?.events ?? []) {
        if (event.kind !== 'message-posted') continue;
        const id = `bench:${event.message.slice(1)}`;
        times.set(id, (times.get(id) ?? 0) + 1);
      }
      expect(await again.verify(job)).toMatchObject({ good: true });
    }
    for (let n = 0; n < 20; n++) expect([n, times.get(`bench:${n}`)]).toEqual([n, 1]);
    for (const [id, n] of times) expect([id, n]).toEqual([id, 1]);
  });

  it('a delivery recorded between the copies of two files is in the backup once', async () => {
    await store.append(openJob('1042'));
    await store.append(openJob('1043'));
    await store.accept(delivery(1), at(1));
    let read = 0;
    const files: FileSeam = {
      ...diskFiles,
      read: async (path) => {
        const bytes = await diskFiles.read(path);
        // Its job's file was read just now, so the copy of it comes from before.
        if (path.endsWith('job-1042.json')) {
          read += 1;
          await store.append({
            job: '1042',
            expected: 1,
            events: [posted(1)],
            index: indexOf('1042'),
            settles: 'bench:1',
          });
          await store.append(openJob('1044'));
          await store.setMark('last', 'x');
        }
        return bytes;
      },
    };
    await backupStore(harness.folder, backup, { clock, files });
    expect(read).toBe(1);
    await restoreStore(backup, restored, { clock });
    const again = await openRestored();
    expect((await again.waiting()).map((w) => w.delivery.id)).toEqual(['bench:1']);
    expect((await again.load('1042'))?.events).toHaveLength(1);
    for (const { job } of await again.list()) expect(await again.load(job)).toBeDefined();
  });

  it('has the end of each chain in its list', async () => {
    await store.append(openJob('1042'));
    await backupStore(harness.folder, backup, { clock });
    const list = await checkBackup(backup);
    expect(list.chains).toEqual([
      { job: '1042', events: 1, end: (await store.load('1042'))?.events[0]?.hash },
    ]);
  });

  it('names a job that was damaged already, and copies the others', async () => {
    await store.append(openJob('1042'));
    await store.append(openJob('1043'));
    await harness.damage('1042', 'torn');
    const report = await backupStore(harness.folder, backup, { clock });
    expect(report).toMatchObject({ jobs: 1, damaged: ['jobs/job-1042.json'] });
  });

  it('refuses a backup that was changed, and restores nothing of it', async () => {
    await store.append(openJob('1042'));
    await backupStore(harness.folder, backup, { clock });
    const path = join(backup, 'jobs', 'job-1042.json');
    await writeFile(path, (await readFile(path, 'utf8')).replace('Bus 7', 'Bus 8'));
    await expect(restoreStore(backup, restored, { clock })).rejects.toThrow('jobs/job-1042.json');
    await expect(readdir(restored)).rejects.toThrow('ENOENT');
  });

  it('refuses a backup that was broken off', async () => {
    await store.append(openJob('1042'));
    await backupStore(harness.folder, backup, { clock });
    await rm(join(backup, 'backup.json'));
    await expect(restoreStore(backup, restored, { clock })).rejects.toThrow(/broken off/);
  });

  it('refuses a list that leads out of the backup', async () => {
    await store.append(openJob('1042'));
    await backupStore(harness.folder, backup, { clock });
    const path = join(backup, 'backup.json');
    await writeFile(
      path,
      (await readFile(path, 'utf8'))
        .replace('marks.jsonl', '../y.jsonl')
        .replace('inbox.jsonl', '../x.jsonl'),
    );
    await expect(restoreStore(backup, restored, { clock })).rejects.toThrow('../x.jsonl');
  });

  it('writes into no folder that holds something, and backs up no folder without a store', async () => {
    await expect(backupStore(harness.folder, harness.folder, { clock })).rejects.toThrow(/already/);
    await backupStore(harness.folder, backup, { clock });
    await expect(restoreStore(backup, harness.folder, { clock })).rejects.toThrow(/already/);
    await expect(backupStore(`${harness.folder}-none`, restored, { clock })).rejects.toThrow(
      /no data/,
    );
  });
});
