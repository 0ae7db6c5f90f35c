// What may go wrong under a store, and what has to hold then, whatever the store is built on.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { JobStore } from '../../src/store/job-store.ts';
import { StoreTrouble } from '../../src/store/store-trouble.ts';
import type { StoreHarness } from './contract.ts';
import { at, delivery, indexOf, openJob, outboxEntry, posted, textsOf, thread } from './sample.ts';

export type AnomalyHarness = StoreHarness & {
  /** Begins a fault of the ground the store stands on; resolves to what ends it. */
  readonly fault: (name: string) => Promise<() => Promise<void>>;
  /** What the store told while it worked. */
  readonly troubles: readonly StoreTrouble[];
  /** Damages what is stored of a job while the store is stopped, in one of the ways named. */
  readonly damage: (job: string, way: string) => Promise<void>;
  /** Everything from the n-th change of the ground on fails, as for a process killed there. */
  readonly killAt: (n: number) => void;
  readonly killed: () => boolean;
  /** A second store on the same place, as another living process would make it. */
  readonly second: () => JobStore;
};

export type Anomalies = {
  readonly faults: readonly string[];
  readonly damages: readonly string[];
  /** Several processes may use the place at once. */
  readonly shares?: boolean;
};

const more = (expected: number, n = 1) =>
  ({ job: '1042', expected, events: [posted(n)], index: indexOf('1042') }) as const;

async function troubleOf(work: Promise<unknown>): Promise<StoreTrouble> {
  const error = await work.then(
    () => undefined,
    (e: unknown) => e,
  );
  expect(error).toBeInstanceOf(StoreTrouble);
  const trouble = error as StoreTrouble;
  for (const part of [trouble.what, trouble.where, trouble.todo]) expect(part).not.toBe('');
  return trouble;
}

/** What a caller can see of a store. */
async function seen(store: JobStore): Promise<unknown> {
  const jobs = await store.list();
  return {
    waiting: await store.waiting(),
    jobs,
    loaded: await Promise.all(jobs.map((entry) => store.load(entry.job))),
    outbox: await store.outbox(),
    mark: await store.mark('shift'),
  };
}

export function jobStoreAnomalies(
  name: string,
  make: () => Promise<AnomalyHarness>,
  { faults, damages, shares = false }: Anomalies,
): void {
  describe(`${name}: anomalies`, () => {
    let harness: AnomalyHarness;
    let store: JobStore;
    beforeEach(async () => {
      harness = await make();
      store = harness.store;
    });
    afterEach(() => harness.end());

    describe.each(faults)('%s', (fault) => {
      it('says what, where and what to do, shows nothing that is not kept, and goes on afterwards', async () => {
        await store.accept(delivery(1), at(1));
        await store.append(openJob('1042', { outbox: [outboxEntry('1042', 'a')] }));
        await store.setMark('shift', 'early');
        const before = await seen(store);

        const end = await harness.fault(fault);
        const tries: readonly (() => Promise<unknown>)[] = [
          () => store.accept(delivery(2), at(2)),
          () => store.accept(delivery(2), at(2)),
          () => store.append(more(1)),
          () => store.append(openJob('1043')),
          () => store.settle('bench:1'),
          () => store.settlePost('1042', '1042/a/bench', undefined),
          () => store.keepPost('1042', '1042/a/bench', { tries: 5, state: 'unclear' }),
          () => store.setMark('shift', 'late'),
        ];
        for (const attempt of tries) await troubleOf(attempt());
        expect(harness.troubles.length).toBeGreaterThan(0);
        await end();
        expect(await seen(store)).toEqual(before);

        expect(await store.accept(delivery(2), at(2))).toBe('new');
        expect((await store.append(more(1))).ok).toBe(true);
        expect((await store.append(openJob('1043'))).ok).toBe(true);
        await store.settle('bench:1');
        await store.settlePost('1042', '1042/a/bench', undefined);
        await store.setMark('shift', 'late');
        const after = await seen(store);
        store = await harness.crash();
        expect(await seen(store)).toEqual(after);
        const job = await store.load('1042');
        expect(job === undefined ? [] : textsOf(job)).toEqual(['drained 1 L']);
      });

      it('tells the same trouble once, not with every message', async () => {
        const end = await harness.fault(fault);
        const before = harness.troubles.length;
        for (let n = 0; n < 30; n++) await troubleOf(store.accept(delivery(n), at(n)));
        expect(harness.troubles.length - before).toBe(1);
        await end();
        expect(await store.accept(delivery(1), at(1))).toBe('new');
      });
    });

    describe.each(damages)('the stored job is %s', (way) => {
      it('it is named and set aside, and the other jobs go on', async () => {
        for (const job of ['1041', '1042', '1043']) {
          await store.append(openJob(job, { threads: [thread(job)] }));
        }
        await store.close();
        await harness.damage('1042', way);
        store = await harness.restart();
        const trouble = await troubleOf(store.load('1042'));
        expect(trouble.message).toContain('1042');
        await troubleOf(store.append({ ...more(1), job: '1042' }));
        for (const job of ['1041', '1043']) {
          expect((await store.load(job))?.events).toHaveLength(1);
          const append = await store.append({ ...more(1), job, index: indexOf(job) });
          expect(append.ok).toBe(true);
        }
        expect(harness.troubles.some((t) => t.message.includes('1042'))).toBe(true);
        store = await harness.restart();
        expect((await store.load('1043'))?.events).toHaveLength(2);
        await troubleOf(store.load('1042'));
      });

      it('a delivery meant for it stays waiting', async () => {
        await store.append(openJob('1042'));
        await store.accept(delivery(1), at(1));
        await store.close();
        await harness.damage('1042', way);
        store = await harness.restart();
        await troubleOf(store.append({ ...more(1), settles: 'bench:1' }));
        expect(await store.waiting()).toHaveLength(1);
      });
    });

    // What several stores on one place make of it is said where a store is shared.
    if (!shares)
      it('a second store on the same place is refused, and is told who has it', async () => {
        const second = harness.second();
        const trouble = await troubleOf(second.open());
        expect(trouble.kind).toBe('locked');
        expect(trouble.message).toMatch(/process \d+ on \S+ since \d{4}-/);
        await store.accept(delivery(1), at(1));
        await store.close();
        await second.open();
        expect(await second.waiting()).toHaveLength(1);
        await second.close();
      });

    it('killed at any point of an append, all of it is there after the restart or nothing', async () => {
      let whole = 0;
      let nothing = 0;
      for (let n = 1; ; n++) {
        expect(n).toBeLessThan(100);
        const job = `k${n}`;
        await store.accept(delivery(job), at(n));
        await store.append(openJob(job));
        harness.killAt(n);
        const done = await store
          .append({
            job,
            expected: 1,
            events: [posted(job)],
            index: indexOf(job, { status: 'closed' }),
            threads: [thread(job)],
            outbox: [outboxEntry(job, 'flag', { urgent: true })],
            settles: `bench:${job}`,
          })
          .then(
            () => true,
            () => false,
          );
        const reached = harness.killed();
        store = await harness.crash();
        const there = ((await store.load(job))?.events.length ?? 0) === 2;
        if (done) expect(there).toBe(true);
        const t = thread(job);
        expect(await store.jobOfThread(t.channel, t.team, t.place, t.thread)).toBe(
          there ? job : undefined,
        );
        const posts = (await store.outbox()).filter((entry) => entry.job === job);
        expect(posts).toHaveLength(there ? 1 : 0);
        const waiting = (await store.waiting()).some((w) => w.delivery.id === `bench:${job}`);
        expect(waiting).toBe(!there);
        const listed = (await store.list()).find((entry) => entry.job === job);
        expect(listed?.status).toBe(there ? 'closed' : 'open');
        if (there) whole += 1;
        else nothing += 1;
        if (!reached) break;
      }
      // Both sides of the commit point were met, or the loop did not test what it says.
      expect(Math.min(whole, nothing)).toBeGreaterThan(1);
    });

    it('killed at any point of keeping a delivery, it is there once when it was acknowledged', async () => {
      for (let n = 1; ; n++) {
        expect(n).toBeLessThan(50);
        harness.killAt(n);
        const acknowledged = await store.accept(delivery(n), at(n)).then(
          () => true,
          () => false,
        );
        const reached = harness.killed();
        store = await harness.crash();
        const times = (await store.waiting()).filter((w) => w.delivery.id === `bench:${n}`).length;
        if (acknowledged) expect(times).toBe(1);
        expect(await store.accept(delivery(n), at(n))).toBe(times === 1 ? 'seen' : 'new');
        if (!reached) break;
      }
    });

    it('killed at any point of opening, the next start finds everything', async () => {
      await store.accept(delivery(1), at(1));
      await store.accept(delivery(2), at(2));
      await store.append(
        openJob('1042', { settles: 'bench:2', outbox: [outboxEntry('1042', 'a')] }),
      );
      await store.setMark('shift', 'early');
      const before = await seen(store);
      for (let n = 1; ; n++) {
        expect(n).toBeLessThan(100);
        store = await harness.crash();
        await store.close();
        harness.killAt(n);
        const reopened = await harness.restart().then(
          () => true,
          () => false,
        );
        store = await harness.crash();
        expect(await seen(store)).toEqual(before);
        if (reopened) break;
      }
    });

    it('a clock that jumps back is told once for each jump; the order and the deliveries stay', async () => {
      await store.accept(delivery(1), at(7200));
      await store.accept(delivery(2), at(0));
      await store.accept(delivery(3), at(5));
      const told = harness.troubles.filter((t) => t.kind === 'clock-back');
      expect(told).toHaveLength(1);
      expect(told[0]?.message).toContain('7200 s');
      await store.accept(delivery(4), at(8000));
      await store.accept(delivery(5), at(0));
      expect(harness.troubles.filter((t) => t.kind === 'clock-back')).toHaveLength(2);
      store = await harness.crash();
      const ids = (await store.waiting()).map((w) => w.delivery.id);
      expect(ids).toEqual([1, 2, 3, 4, 5].map((n) => `bench:${n}`));
    });

    it('after closing it refuses with a remedy, and opens again', async () => {
      await store.close();
      for (const work of [
        () => store.accept(delivery(1), at(1)),
        () => store.load('1042'),
        () => store.append(openJob('1042')),
        () => store.outbox(),
        () => store.list(),
      ]) {
        expect((await troubleOf(work())).kind).toBe('closed');
      }
      await store.open();
      expect(await store.accept(delivery(1), at(1))).toBe('new');
    });

    it('closing waits for what was begun', async () => {
      await store.append(openJob('1042'));
      const accepted = store.accept(delivery(1), at(1));
      const appended = store.append(more(1));
      await store.close();
      expect(await accepted).toBe('new');
      expect((await appended).ok).toBe(true);
      store = await harness.restart();
      expect(await store.waiting()).toHaveLength(1);
      expect((await store.load('1042'))?.events).toHaveLength(2);
    });
  });
}
