// Everything that is stored goes into a database and back into a folder, to the letter.
import { createHash } from 'node:crypto';
import { rm } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { carryOver } from '../../../src/store/carry.ts';
import { jobFileStore } from '../../../src/store/job-file-store.ts';
import type { JobStore } from '../../../src/store/job-store.ts';
import { postgresStore } from '../../../src/store/postgres/postgres-store.ts';
import { StoreTrouble } from '../../../src/store/store-trouble.ts';
import { newFolder } from '../file-harness.ts';
import { at, delivery, indexOf, openJob, outboxEntry, posted, thread } from '../sample.ts';
import { type Cluster, hasPostgres, startCluster, WITHOUT_POSTGRES } from './cluster.ts';

const clock = (): string => at(0);
const PHOTO = Buffer.from('a photo of a cracked seal');
const SUM = createHash('sha256').update(PHOTO).digest('hex');

/** A little of everything a store keeps. */
const fill = async (store: JobStore): Promise<void> => {
  for (const job of ['1042', 'bus/7 %', '\ud800']) {
    await store.append(
      openJob(job, {
        threads: [thread(job)],
        outbox: [outboxEntry(job, 'a'), outboxEntry(job, 'b', { urgent: true })],
      }),
    );
    await store.accept(delivery(`done-${job}`), at(1));
    await store.append({
      job,
      expected: 1,
      events: [posted(1), posted(2)],
      index: indexOf(job),
      settles: `bench:done-${job}`,
    });
  }
  await store.accept(delivery(7), at(7));
  await store.accept(delivery(8), at(8));
  await store.setMark('shift', 'early %\u0000');
  await store.keepFile('1042', SUM, 'image/jpeg', PHOTO);
};

const seen = async (store: JobStore) => {
  const jobs = await store.list();
  return {
    jobs,
    loaded: await Promise.all(jobs.map(({ job }) => store.load(job))),
    waiting: await store.waiting(),
    outbox: await store.outbox(),
    mark: await store.mark('shift'),
    photo: Buffer.from((await store.readFile('1042', `${SUM}.jpg`)) ?? []).toString(),
    thread: await store.jobOfThread('bench', 'bench', 'yard', 'thread-bus/7 %'),
  };
};

describe.skipIf(!hasPostgres)(`carrying a workshop over ${WITHOUT_POSTGRES}`, () => {
  let cluster: Cluster;
  let url = '';
  const folders: string[] = [];
  beforeAll(async () => {
    cluster = await startCluster();
    url = await cluster.database('carry');
  }, 60_000);
  afterAll(async () => {
    await cluster?.stop();
    for (const folder of folders) await rm(folder, { recursive: true, force: true });
  }, 60_000);
  const folderStore = async () => {
    const folder = await newFolder();
    folders.push(folder);
    const store = jobFileStore(folder, { clock });
    await store.open();
    return store;
  };

  it('keeps all of it into the database and back, with the chains and against doubles', async () => {
    const folder = await folderStore();
    await fill(folder);
    const before = await seen(folder);
    const database = postgresStore({ url, workshop: 'there', clock });
    await database.open();
    expect(await carryOver(folder.carry, database.carry)).toEqual({
      jobs: 3,
      events: 9,
      waiting: 2,
      files: 1,
    });
    expect(await seen(database)).toEqual(before);
    expect(await database.accept(delivery('done-1042'), at(9))).toBe('seen');
    expect(await database.verify('1042')).toMatchObject({ good: true });

    const back = await folderStore();
    await carryOver(database.carry, back.carry);
    expect(await seen(back)).toEqual(before);
    expect(await back.accept(delivery(7), at(9))).toBe('seen');
    expect(await back.accept(delivery('done-1042'), at(9))).toBe('seen');
    // A delivery that was settled in a job stays settled there, in all three places.
    for (const store of [folder, database, back]) {
      const again = await store.append({
        job: '1042',
        expected: 99,
        events: [],
        index: indexOf('1042'),
        settles: 'bench:done-1042',
      });
      expect(again).toEqual({ ok: true, version: 3 });
    }
    // What is posted next stands behind what was carried over.
    await database.append({
      job: '1042',
      expected: 3,
      events: [posted(3)],
      index: indexOf('1042'),
      outbox: [outboxEntry('1042', 'last')],
    });
    expect((await database.outbox()).at(-1)?.post.key).toBe('last');
    for (const store of [folder, back]) await store.close();
    await database.close();
  });

  it('refuses a place where there are jobs, and leaves both as they were', async () => {
    const folder = await folderStore();
    await fill(folder);
    const database = postgresStore({ url, workshop: 'taken', clock });
    await database.open();
    await database.append(openJob('9'));
    const trouble = await carryOver(folder.carry, database.carry).catch((error) => error);
    expect(trouble).toBeInstanceOf(StoreTrouble);
    expect(trouble.message).toMatch(/jobs already.*empty place/u);
    expect((await database.list()).map(({ job }) => job)).toEqual(['9']);
    await folder.close();
    await database.close();
  });

  it('shows nothing of one workshop in another one of the same database', async () => {
    const one = postgresStore({ url, workshop: 'one', clock });
    const other = postgresStore({ url, workshop: 'other', clock });
    await one.open();
    await other.open();
    await fill(one);
    expect(await seen(other)).toEqual({
      jobs: [],
      loaded: [],
      waiting: [],
      outbox: [],
      mark: undefined,
      photo: '',
      thread: undefined,
    });
    expect(await other.load('1042')).toBeUndefined();
    expect(await other.accept(delivery(7), at(7))).toBe('new');
    expect(await other.removePerson(['Jo'])).toBe(0);
    await one.close();
    await other.close();
  });
});
