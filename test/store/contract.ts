// What every store has to keep, whatever it is built on. An implementation calls `jobStoreContract` with its harness.
import { createHash } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { JobStore } from '../../src/store/job-store.ts';
import {
  at,
  delivery,
  indexOf,
  jobOpened,
  openJob,
  outboxEntry,
  posted,
  textsOf,
  thread,
} from './sample.ts';

export type StoreHarness = {
  /** An open store on a place of its own. */
  readonly store: JobStore;
  /** Stops the store as a planned stop does and opens it again on the same place. */
  readonly restart: () => Promise<JobStore>;
  /** Leaves the store as a killed process would and opens it again on the same place. */
  readonly crash: () => Promise<JobStore>;
  readonly end: () => Promise<void>;
};

const RESTARTS = ['restart', 'crash'] as const;

export function jobStoreContract(name: string, make: () => Promise<StoreHarness>): void {
  describe(`${name}: the contract of a store`, () => {
    let harness: StoreHarness;
    let store: JobStore;
    beforeEach(async () => {
      harness = await make();
      store = harness.store;
    });
    afterEach(() => harness.end());

    describe('deliveries', () => {
      it('keeps a delivery and gives it back until it is settled', async () => {
        expect(await store.accept(delivery(1), at(1))).toBe('new');
        expect(await store.waiting()).toEqual([{ delivery: delivery(1), acceptedAt: at(1) }]);
        await store.settle('bench:1');
        expect(await store.waiting()).toEqual([]);
      });

      it('knows a delivery by its id', async () => {
        await store.accept(delivery(1), at(1));
        expect(await store.accept({ ...delivery(1), keys: ['other'] }, at(2))).toBe('seen');
        expect(await store.waiting()).toHaveLength(1);
      });

      it('knows a delivery by any of its keys', async () => {
        await store.accept({ ...delivery(1), keys: ['a', 'b'] }, at(1));
        expect(await store.accept({ ...delivery(2), keys: ['c', 'b'] }, at(2))).toBe('seen');
        expect(await store.accept({ ...delivery(3), keys: ['c', 'd'] }, at(3))).toBe('new');
      });

      it('knows a settled delivery when it comes again', async () => {
        await store.accept(delivery(1), at(1));
        await store.settle('bench:1');
        expect(await store.accept(delivery(1), at(9))).toBe('seen');
      });

      it('takes one of many doubles that arrive at the same moment', async () => {
        const answers = await Promise.all(
          Array.from({ length: 20 }, () => store.accept(delivery(1), at(1))),
        );
        expect(answers.filter((a) => a === 'new')).toHaveLength(1);
        expect(await store.waiting()).toHaveLength(1);
      });

      it('gives deliveries back in the order in which they were accepted, whatever their times', async () => {
        const order = [5, 1, 9, 3];
        for (const n of order) await store.accept(delivery(n), at(n));
        const ids = (await store.waiting()).map((w) => w.delivery.id);
        expect(ids).toEqual(['bench:5', 'bench:1', 'bench:9', 'bench:3']);
      });

      it('settling an unknown delivery changes nothing', async () => {
        await store.accept(delivery(1), at(1));
        await store.settle('bench:2');
        expect(await store.waiting()).toHaveLength(1);
      });

      it('refuses a delivery that could not be read back', async () => {
        const wrong = { ...delivery(1), extra: true };
        await expect(store.accept(wrong, at(1))).rejects.toThrow(/delivery/i);
        expect(await store.waiting()).toEqual([]);
      });

      it.each(RESTARTS)('keeps deliveries, their order and their keys over a %s', async (how) => {
        for (const n of [3, 1, 2]) await store.accept(delivery(n), at(n));
        await store.settle('bench:1');
        store = await harness[how]();
        const ids = (await store.waiting()).map((w) => w.delivery.id);
        expect(ids).toEqual(['bench:3', 'bench:2']);
        for (const n of [1, 2, 3]) expect(await store.accept(delivery(n), at(n))).toBe('seen');
        const byKey = { ...delivery(4), keys: ['bench/yard/1'] };
        expect(await store.accept(byKey, at(4))).toBe('seen');
      });
    });

    describe('jobs', () => {
      it('has no job before one is opened', async () => {
        expect(await store.load('1042')).toBeUndefined();
        expect(await store.list()).toEqual([]);
      });

      it('keeps what is appended, in order', async () => {
        const opened = await store.append(openJob('1042'));
        expect(opened.ok).toBe(true);
        if (!opened.ok) return;
        const more = await store.append({
          job: '1042',
          expected: opened.version,
          events: [posted(1), posted(2)],
          index: indexOf('1042'),
        });
        expect(more.ok).toBe(true);
        const job = await store.load('1042');
        expect(job?.events.map(({ event }) => event)).toEqual([
          jobOpened('1042'),
          posted(1),
          posted(2),
        ]);
        expect(more.ok && job?.version === more.version).toBe(true);
      });

      it('refuses events decided on an older state, and says the version found', async () => {
        const opened = await store.append(openJob('1042'));
        const late = await store.append({ ...openJob('1042'), events: [posted(1)] });
        expect(late).toEqual({ ok: false, found: opened.ok ? opened.version : -1 });
        expect((await store.load('1042'))?.events).toHaveLength(1);
      });

      it('lets one of two win that were decided on the same state', async () => {
        const opened = await store.append(openJob('1042'));
        const expected = opened.ok ? opened.version : -1;
        const answers = await Promise.all(
          [1, 2].map((n) =>
            store.append({
              job: '1042',
              expected,
              events: [posted(n)],
              index: indexOf('1042'),
            }),
          ),
        );
        expect(answers.filter((a) => a.ok)).toHaveLength(1);
        expect((await store.load('1042'))?.events).toHaveLength(2);
      });

      it('refuses an event that could not be read back, and keeps the job as it was', async () => {
        await store.append(openJob('1042'));
        const wrong = { ...posted(1), at: 'yesterday' };
        const append = store.append({
          job: '1042',
          expected: 1,
          events: [wrong],
          index: indexOf('1042'),
        });
        await expect(append).rejects.toThrow(/event/i);
        expect((await store.load('1042'))?.events).toHaveLength(1);
      });

      it('records an event once, however often it is appended', async () => {
        const opened = await store.append({
          ...openJob('1042'),
          events: [jobOpened('1042'), posted(1)],
        });
        const expected = opened.ok ? opened.version : -1;
        await store.append({
          job: '1042',
          expected,
          events: [posted(1), posted(2)],
          index: indexOf('1042'),
        });
        const job = await store.load('1042');
        expect(job === undefined ? [] : textsOf(job)).toEqual(['drained 1 L', 'drained 2 L']);
      });

      it('refuses two different events with one id', async () => {
        await store.append({ ...openJob('1042'), events: [jobOpened('1042'), posted(1)] });
        const other = store.append({
          job: '1042',
          expected: 2,
          events: [posted(1, 'drained 28 L')],
          index: indexOf('1042'),
        });
        await expect(other).rejects.toThrow(/bench:1-posted/);
      });

      it('does not change a recorded event when the caller changes its own later', async () => {
        const acts = [
          {
            kind: 'done' as const,
            positions: ['1'],
            assumed: [],
            span: [0, 1] as [number, number],
          },
        ];
        const read = {
          id: 'r1',
          at: at(1),
          by: 'Jo',
          kind: 'message-read' as const,
          message: 'm1',
          revision: 0,
          pass: 0,
          acts,
          relied: [],
        };
        await store.append({ ...openJob('1042'), events: [jobOpened('1042'), read] });
        acts[0]?.positions.push('2');
        const event = (await store.load('1042'))?.events[1]?.event;
        expect(event?.kind === 'message-read' && event.acts[0]?.positions).toEqual(['1']);
      });

      it.each(RESTARTS)('keeps job, list and threads over a %s', async (how) => {
        await store.append({
          ...openJob('1042'),
          threads: [thread('1042')],
          index: indexOf('1042', { threads: [thread('1042')] }),
        });
        await store.append(openJob('1043'));
        store = await harness[how]();
        expect((await store.load('1042'))?.events.map((e) => e.event)).toEqual([jobOpened('1042')]);
        const jobs = (await store.list()).map((entry) => entry.job).sort();
        expect(jobs).toEqual(['1042', '1043']);
        const t = thread('1042');
        expect(await store.jobOfThread(t.channel, t.team, t.place, t.thread)).toBe('1042');
        expect(await store.jobOfThread(t.channel, t.team, t.place, 'other')).toBeUndefined();
        expect(await store.jobOfThread('slack', t.team, t.place, t.thread)).toBeUndefined();
      });

      it.each(RESTARTS)(
        'the job that took a thread over last has it, after a %s too',
        async (how) => {
          for (const job of ['1', '2']) {
            await store.append({ ...openJob(job), threads: [thread('shared')] });
          }
          await store.append({
            job: '1',
            expected: 1,
            events: [posted(1)],
            index: indexOf('1', { vehicle: 'Bus 8' }),
          });
          store = await harness[how]();
          const t = thread('shared');
          expect(await store.jobOfThread(t.channel, t.team, t.place, t.thread)).toBe('2');
        },
      );

      it.each(RESTARTS)('lists a job as it was last written, after a %s', async (how) => {
        await store.append(openJob('1042'));
        await store.append({
          job: '1042',
          expected: 1,
          events: [posted(1)],
          index: indexOf('1042', { status: 'closed', closedAt: at(9) }),
        });
        store = await harness[how]();
        expect(await store.list()).toEqual([
          { ...indexOf('1042', { status: 'closed', closedAt: at(9) }) },
        ]);
      });

      const nines = '9'.repeat(400);
      it.each(
        [
          ['1042/../../x', '1042'],
          ['..', '.'],
          ['A1', 'a1'],
          ['é', 'e\u0301'],
          ['con', 'CON'],
          ['', ' '],
          ['a\u0000b', 'a b'],
          ['\ud800', '\ud801'],
          [`${nines}1`, `${nines}2`],
        ].map(([a, b]) => [a?.slice(0, 20), a ?? '', b ?? ''] as const),
      )('keeps the job %j apart from one much like it', async (_title, one, other) => {
        await store.append(openJob(one));
        await store.append(openJob(other));
        store = await harness.restart();
        for (const job of [one, other]) {
          const event = (await store.load(job))?.events[0]?.event;
          expect(event?.kind === 'job-opened' && event.job).toBe(job);
        }
      });

      it.each([
        ['letters of all kinds', 'ö 漢字 🙂 \u200e \u0000 \u2028 "\\ '],
        ['half a character', '\ud800 alone'],
        ['markup', '<script>&amp;</script>'],
        ['100,000 characters', 'x'.repeat(100_000)],
      ])('gives any text back as it was: %s', async (_title, text) => {
        await store.append({ ...openJob('1'), events: [jobOpened('1'), posted(1, text)] });
        store = await harness.restart();
        const job = await store.load('1');
        expect(job === undefined ? [] : textsOf(job)).toEqual([text]);
      });
    });

    describe('settling with an append', () => {
      it.each(RESTARTS)(
        'a delivery settled by an append is not waiting, nor after a %s',
        async (how) => {
          await store.accept(delivery(1), at(1));
          await store.accept(delivery(2), at(2));
          await store.append(openJob('1042', { settles: 'bench:1' }));
          expect((await store.waiting()).map((w) => w.delivery.id)).toEqual(['bench:2']);
          store = await harness[how]();
          expect((await store.waiting()).map((w) => w.delivery.id)).toEqual(['bench:2']);
        },
      );

      it.each(['nothing', ...RESTARTS] as const)(
        'the same delivery settled twice is recorded once, with %s between',
        async (how) => {
          const opened = await store.append(openJob('1042'));
          const first = await store.append({
            job: '1042',
            expected: opened.ok ? opened.version : -1,
            events: [posted(1)],
            index: indexOf('1042'),
            settles: 'bench:1',
          });
          if (how !== 'nothing') store = await harness[how]();
          const again = await store.append({
            job: '1042',
            expected: 99,
            events: [posted('1b')],
            index: indexOf('1042'),
            settles: 'bench:1',
          });
          expect(again).toEqual(first);
          expect((await store.load('1042'))?.events).toHaveLength(2);
        },
      );

      it('a refused append settles nothing', async () => {
        await store.accept(delivery(1), at(1));
        await store.append(openJob('1042', { expected: 7, settles: 'bench:1' }));
        expect(await store.waiting()).toHaveLength(1);
      });
    });

    describe('posts', () => {
      it('gives urgent posts first, then all in the order in which they were made', async () => {
        await store.append(
          openJob('2', { outbox: [outboxEntry('2', 'a'), outboxEntry('2', 'b')] }),
        );
        await store.append(
          openJob('1', {
            outbox: [outboxEntry('1', 'c'), outboxEntry('1', 'stop', { urgent: true })],
          }),
        );
        const keys = (await store.outbox()).map((e) => e.post.key);
        expect(keys).toEqual(['stop', 'a', 'b', 'c']);
      });

      it.each(RESTARTS)('keeps their order over a %s, and puts new ones behind', async (how) => {
        await store.append(openJob('2', { outbox: [outboxEntry('2', 'a')] }));
        await store.append(openJob('1', { outbox: [outboxEntry('1', 'b')] }));
        store = await harness[how]();
        await store.append(
          openJob('0', {
            outbox: [outboxEntry('0', 'c'), outboxEntry('0', 'd', { urgent: true })],
          }),
        );
        expect((await store.outbox()).map((e) => e.post.key)).toEqual(['d', 'a', 'b', 'c']);
      });

      it.each(RESTARTS)(
        'a settled post is gone and its place known, after a %s too',
        async (how) => {
          await store.append(
            openJob('1', { outbox: [outboxEntry('1', 'a'), outboxEntry('1', 'b')] }),
          );
          const ref = {
            key: 'a',
            channel: 'bench',
            team: 'bench',
            place: 'yard',
            message: 'card-1',
          } as const;
          await store.settlePost('1', '1/a/bench', ref);
          store = await harness[how]();
          expect((await store.outbox()).map((e) => e.post.key)).toEqual(['b']);
          expect((await store.load('1'))?.posts).toEqual([ref]);
          expect((await store.load('1'))?.outbox.map((e) => e.post.key)).toEqual(['b']);
        },
      );

      it.each(RESTARTS)('keeps tries and doubt of a post over a %s', async (how) => {
        await store.append(openJob('1', { outbox: [outboxEntry('1', 'a')] }));
        await store.keepPost('1', '1/a/bench', { tries: 3, state: 'unclear' });
        store = await harness[how]();
        expect((await store.outbox()).map(({ tries, state }) => ({ tries, state }))).toEqual([
          { tries: 3, state: 'unclear' },
        ]);
      });

      it('a post about posts does not make an event look decided on an older state', async () => {
        const opened = await store.append(openJob('1', { outbox: [outboxEntry('1', 'a')] }));
        await store.keepPost('1', '1/a/bench', { tries: 1, state: 'waiting' });
        await store.settlePost('1', '1/a/bench', undefined);
        const more = await store.append({
          job: '1',
          expected: opened.ok ? opened.version : -1,
          events: [posted(1)],
          index: indexOf('1'),
        });
        expect(more.ok).toBe(true);
      });

      it('a newer card under a waiting key takes its place in the order', async () => {
        await store.append(
          openJob('1', {
            outbox: [outboxEntry('1', 'sheet', { edit: true }), outboxEntry('1', 'b')],
          }),
        );
        await store.append({
          ...openJob('1', { outbox: [outboxEntry('1', 'sheet', { edit: true, text: 'newer' })] }),
          expected: 1,
          events: [],
        });
        const cards = (await store.outbox()).map((e) => e.post.card?.text);
        expect(cards).toEqual(['newer', 'card b']);
      });

      it('a newer card made while the older one is being posted is posted too', async () => {
        const sheet = outboxEntry('1', 'sheet', { edit: true, text: 'older' });
        await store.append(openJob('1', { outbox: [sheet] }));
        const [handedOut] = await store.outbox();
        expect(handedOut?.post.card?.text).toBe('older');
        await store.append({
          ...openJob('1', { outbox: [outboxEntry('1', 'sheet', { edit: true, text: 'newer' })] }),
          expected: 1,
          events: [],
        });
        await store.settlePost('1', sheet.id, undefined, handedOut);
        const left = await store.outbox();
        expect(left.map((e) => e.post.card?.text)).toEqual(['newer']);
        await store.settlePost('1', sheet.id, undefined, left[0]);
        expect(await store.outbox()).toEqual([]);
      });

      it('the same key again, without edit, is posted once', async () => {
        const flag = outboxEntry('1', 'flag');
        await store.append(openJob('1', { outbox: [flag] }));
        const again = { ...openJob('1', { outbox: [flag] }), expected: 1, events: [] };
        await store.append(again);
        expect(await store.outbox()).toHaveLength(1);
        const ref = {
          key: 'flag',
          channel: 'bench',
          team: 'bench',
          place: 'yard',
          message: 'c',
        } as const;
        await store.settlePost('1', flag.id, ref);
        await store.append(again);
        expect(await store.outbox()).toEqual([]);
      });

      it('settling a post of a job that is not there changes nothing', async () => {
        await store.settlePost('none', 'none/a/bench', undefined);
        expect(await store.list()).toEqual([]);
      });
    });

    describe('marks and files', () => {
      it.each(RESTARTS)('keeps marks over a %s', async (how) => {
        expect(await store.mark('shift')).toBeUndefined();
        await store.setMark('shift', 'early');
        await Promise.all([
          store.setMark('shift', 'noon'),
          store.setMark('shift', 'early'),
          store.setMark('shift', 'late'),
          store.setMark('__proto__', 'x'),
        ]);
        await Promise.all([store.setMark('bay', '1'), store.setMark('bay', '2')]);
        await Promise.all([store.setMark('bay', '1'), store.setMark('bay', '2')]);
        expect(await store.mark('bay')).toBe('2');
        store = await harness[how]();
        expect(await store.mark('shift')).toBe('late');
        expect(await store.mark('__proto__')).toBe('x');
        expect(await store.mark('constructor')).toBeUndefined();
      });

      it.each(RESTARTS)('keeps a photo over a %s', async (how) => {
        const bytes = Buffer.from('not really a photo');
        const sha256 = createHash('sha256').update(bytes).digest('hex');
        const name = await store.keepFile('1042', sha256, 'image/jpeg', bytes);
        expect(await store.keepFile('1042', sha256, 'image/jpeg', bytes)).toBe(name);
        store = await harness[how]();
        const back = await store.readFile('1042', name);
        expect(back === undefined ? '' : Buffer.from(back).toString()).toBe('not really a photo');
        expect(await store.readFile('1043', name)).toBeUndefined();
      });

      it('refuses a photo whose hash is another', async () => {
        const wrong = store.keepFile('1042', 'a'.repeat(64), 'image/jpeg', Buffer.from('cut sh'));
        await expect(wrong).rejects.toThrow(/hash/);
      });

      it.each([
        '../../lock.json',
        '../marks.json',
        '/etc/hostname',
        '',
        'a.jpg',
        `${'a'.repeat(64)}.jpg`,
      ])('there is no kept file %j', async (name) => {
        await store.append(openJob('1042'));
        expect(await store.readFile('1042', name)).toBeUndefined();
      });
    });
  });
}
