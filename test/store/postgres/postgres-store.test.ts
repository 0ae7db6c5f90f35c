// The store in a database: the contract and the anomalies of every store, and what several processes make of it.
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { laneOf } from '../../../src/store/job-store.ts';
import { openDatabase } from '../../../src/store/postgres/database.ts';
import { jobStoreAnomalies } from '../anomalies.ts';
import { jobStoreContract } from '../contract.ts';
import { at, delivery, indexOf, openJob, outboxEntry, posted, textsOf, thread } from '../sample.ts';
import { type Cluster, hasPostgres, startCluster, WITHOUT_POSTGRES } from './cluster.ts';
import { DATABASE_DAMAGES, DATABASE_FAULTS, postgresHarness } from './postgres-harness.ts';

describe.skipIf(!hasPostgres)(`PostgreSQL ${WITHOUT_POSTGRES}`, () => {
  let cluster: Cluster;
  let url = '';
  beforeAll(async () => {
    cluster = await startCluster();
    url = await cluster.database('contract');
  }, 60_000);
  afterAll(() => cluster?.stop(), 60_000);

  jobStoreContract('postgres-store', () => postgresHarness(url));
  jobStoreAnomalies('postgres-store', () => postgresHarness(url), {
    faults: DATABASE_FAULTS,
    damages: DATABASE_DAMAGES,
    shares: true,
  });

  describe('several processes on one database', () => {
    it('see what the others wrote, and nothing of another workshop', async () => {
      const { store, second, end } = await postgresHarness(url);
      const other = second();
      await other.open();
      await store.append(openJob('1042', { threads: [thread('1042')] }));
      expect((await other.load('1042'))?.version).toBe(1);
      await other.append({ job: '1042', expected: 1, events: [posted(1)], index: indexOf('1042') });
      const job = await store.load('1042');
      expect(job === undefined ? [] : textsOf(job)).toEqual(['drained 1 L']);
      expect(await store.shared.versionOf('1042')).toBe(2);
      await end();
    });

    it('decide an append on the version that is there', async () => {
      const { store, second, end } = await postgresHarness(url);
      const other = second();
      await other.open();
      await store.append(openJob('1042'));
      const results = await Promise.all(
        [store, other, store, other].map((each, n) =>
          each.append({
            job: '1042',
            expected: 1,
            events: [posted(n)],
            index: indexOf('1042'),
          }),
        ),
      );
      expect(results.filter((each) => each.ok)).toHaveLength(1);
      expect((await other.load('1042'))?.version).toBe(2);
      await end();
    });

    it('open a job once when both do in the same moment', async () => {
      const { store, second, end } = await postgresHarness(url);
      const other = second();
      await other.open();
      const results = await Promise.all([store, other].map((each) => each.append(openJob('1042'))));
      expect(results.filter((each) => each.ok)).toHaveLength(1);
      expect((await store.list()).map(({ job }) => job)).toEqual(['1042']);
      await end();
    });

    it('keep a delivery once when both take it in the same moment', async () => {
      const { store, second, end } = await postgresHarness(url);
      const other = second();
      await other.open();
      for (let n = 0; n < 20; n += 1) {
        const answers = await Promise.all(
          [store, other, store, other].map((each) => each.accept(delivery(n), at(n))),
        );
        expect(answers.filter((answer) => answer === 'new')).toHaveLength(1);
      }
      expect(await other.waiting()).toHaveLength(20);
      await end();
    });

    it('work a delivery off once in effect, though both begin it', async () => {
      const { store, second, end } = await postgresHarness(url);
      const other = second();
      await other.open();
      await store.append(openJob('1042'));
      await store.accept(delivery(1), at(1));
      const work = (each: typeof store) =>
        each.append({
          job: '1042',
          expected: 1,
          events: [posted(1)],
          index: indexOf('1042'),
          outbox: [outboxEntry('1042', 'a')],
          settles: 'bench:1',
        });
      const results = await Promise.all([work(store), work(other)]);
      expect(results.every((each) => each.ok)).toBe(true);
      expect((await store.load('1042'))?.version).toBe(2);
      expect(await store.outbox()).toHaveLength(1);
      expect(await store.waiting()).toEqual([]);
      await end();
    });

    it('hold a lease one at a time, until it is given back or runs out', async () => {
      const { store, second, end } = await postgresHarness(url);
      const other = second();
      await other.open();
      expect(await store.shared.lease('posts', 60)).toBe(true);
      expect(await store.shared.lease('posts', 60)).toBe(true);
      expect(await other.shared.lease('posts', 60)).toBe(false);
      expect(await other.shared.lease('notes', 60)).toBe(true);
      await store.shared.release('posts');
      expect(await other.shared.lease('posts', 0)).toBe(true);
      // Its time is over at once: whoever died with it holds nobody up.
      expect(await store.shared.lease('posts', 60)).toBe(true);
      await end();
    });

    it('ask for what waits in one lane, and in which lanes something waits', async () => {
      const { store, second, end } = await postgresHarness(url);
      const other = second();
      await other.open();
      const inThread = (n: number, name: string) => ({ ...delivery(n), thread: name });
      const all = [inThread(1, 'a'), inThread(2, 'b\u0000%'), inThread(3, 'a'), delivery(4)];
      for (const [n, each] of all.entries()) await store.accept(each, at(n));
      const lanes = [...new Set(all.map(laneOf))];
      expect(await other.shared.lanes()).toEqual(lanes);
      const idsIn = async (lane: string): Promise<readonly string[]> =>
        (await other.shared.waitingIn(lane)).map((each) => each.delivery.id);
      expect(await idsIn(lanes[0] ?? '')).toEqual(['bench:1', 'bench:3']);
      expect(await idsIn(lanes[1] ?? '')).toEqual(['bench:2']);
      expect(await idsIn(lanes[2] ?? '')).toEqual(['bench:4']);
      await store.settle('bench:1');
      expect(await idsIn(lanes[0] ?? '')).toEqual(['bench:3']);
      // What an older version of the program kept has no lane beside it.
      const database = openDatabase(url);
      await database.ask("update chargehand.delivery set lane = null where id = 'bench:3'");
      await database.close();
      expect(await idsIn(lanes[0] ?? '')).toEqual(['bench:3']);
      expect(await idsIn(lanes[1] ?? '')).toEqual(['bench:2']);
      expect(new Set(await other.shared.lanes())).toEqual(new Set(lanes));
      await end();
    });

    it('are told which jobs were written since, by whom ever', async () => {
      const { store, second, end } = await postgresHarness(url);
      const other = second();
      await other.open();
      await store.append(openJob('1042'));
      const first = await other.shared.changedSince(undefined);
      expect(first.changes.map(({ entry }) => entry.job)).toEqual(['1042']);
      await store.append(openJob('1043'));
      const then = await other.shared.changedSince(first.upTo);
      expect(then.changes.map(({ entry }) => entry.job)).toContain('1043');
      expect((await other.shared.changedSince(then.upTo)).upTo).toBe(then.upTo);
      await end();
    });
  });
});
