// A card whose answer was lost, and which a newer one replaces before it is tried again: it stands once, as the newer says.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  floorOn,
  type Keeping,
  keepingChannel,
  message,
  OPEN,
  START,
  type TestFloor,
  temporaryFolder,
} from './workshop-floor.ts';

let folder: string;
let remove: () => Promise<void>;
let floor: TestFloor;
let bench: Keeping;
/** What becomes of the next posts of a reply: carried out or not, the answer is lost. */
let lost: 'carried out' | 'not carried out' | undefined;

beforeEach(async () => {
  ({ folder, remove } = await temporaryFolder());
  bench = keepingChannel('bench');
  const { post } = bench.channel;
  Object.assign(bench.channel, {
    post: async (...given: Parameters<typeof post>) => {
      if (lost === undefined || !given[2].includes('|reply:')) return post(...given);
      if (lost === 'carried out') await post(...given);
      return { ok: false, failure: { kind: 'unclear', why: 'reset' } };
    },
  });
  lost = undefined;
  floor = await floorOn(folder, [bench]);
});
afterEach(async () => {
  await floor.running.stop();
  await remove();
});

describe.each(['carried out', 'not carried out'] as const)('a reply that was %s', (how) => {
  it('stands once, as the newer card says', async () => {
    await bench.intake().accept(message('m0', 'Robin', OPEN));
    await floor.calm();
    const thread = (await floor.store.load('1042'))?.threads[0]?.thread ?? '';
    lost = how;
    // A figure out of limits is said at once; the edit takes it back before the reply could be tried again.
    await bench
      .intake()
      .accept(message('m1', 'Ada', 'pump bolts torqued stage 1 100 Nm', { thread }));
    await floor.running.idle();
    await expect.poll(() => floor.clock.waitsFor('outbox')).toBe(true);
    const before = bench.posted.filter(({ key }) => key.includes('|reply:')).length;
    expect(before).toBe(how === 'carried out' ? 1 : 0);
    await bench.intake().accept({
      ...message('m1', 'Ada', 'pump bolts torqued stage 1 10 Nm', { thread }),
      id: 'bench:m1:edited',
      kind: 'edit',
    } as Parameters<ReturnType<Keeping['intake']>['accept']>[0]);
    await floor.running.idle();
    lost = undefined;
    await floor.clock.until(new Date(Date.parse(START) + 600_000).toISOString(), floor.calm);
    await floor.calm();
    const replies = bench.posted.filter(({ key }) => key.includes('|reply:bench:m1'));
    const first = replies.filter(({ key }) => key.endsWith('|reply:bench:m1'));
    expect(first.length).toBe(1);
    expect(first[0]?.card.text).toMatch(/No longer standing/u);
    expect(floor.running.backlog()).toBe(0);
  });
});

it('that waited stands before what was said after it, though it was changed meanwhile', async () => {
  await bench.intake().accept(message('m0', 'Robin', OPEN));
  await floor.calm();
  const thread = (await floor.store.load('1042'))?.threads[0]?.thread ?? '';
  const torque = (newtonMetres: number) => `pump bolts torqued stage 1 ${newtonMetres} Nm`;
  lost = 'not carried out';
  // The first post of all is tried in vain; behind it wait the reply to m1, an answer, and the change of that reply.
  await bench.intake().accept(message('m9', 'Ada', 'where are we', { thread }));
  await bench.intake().accept(message('m1', 'Ada', torque(100), { thread }));
  await bench.intake().accept(message('m2', 'Ada', 'where are we', { thread }));
  await bench.intake().accept({
    ...message('m1', 'Ada', torque(10), { thread }),
    id: 'bench:m1:edited',
    kind: 'edit',
  } as Parameters<ReturnType<Keeping['intake']>['accept']>[0]);
  await floor.running.idle();
  await expect.poll(() => floor.clock.waitsFor('outbox')).toBe(true);
  lost = undefined;
  await floor.clock.until(new Date(Date.parse(START) + 600_000).toISOString(), floor.calm);
  await floor.calm();
  const order = bench.posted.flatMap(({ key }) => /\|reply:bench:(m[129])$/u.exec(key)?.[1] ?? []);
  expect(order).toEqual(['m9', 'm1', 'm2']);
  expect(bench.posted.find(({ key }) => key.endsWith('|reply:bench:m1'))?.card.text).toMatch(
    /No longer standing/u,
  );
});
