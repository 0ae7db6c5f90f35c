// A delivery is acknowledged once it is kept, however long the work takes: a platform that waits 3 s sends it again.
import { expect, it } from 'vitest';
import type { Delivery } from '../../shared/delivery.ts';
import { floorOn, keepingChannel, message, OPEN, temporaryFolder } from './workshop-floor.ts';

it('accepts while the work on what came before is still going on', async () => {
  const { folder, remove } = await temporaryFolder();
  const bench = keepingChannel('bench');
  let arrive: (bytes: Uint8Array) => void = () => undefined;
  const slow = new Promise<Uint8Array>((resolve) => {
    arrive = resolve;
  });
  const floor = await floorOn(folder, [
    { ...bench, channel: { ...bench.channel, fetch: () => slow } },
  ]);
  const { intake } = bench;
  await intake().accept(message('m0', 'Robin', OPEN));
  await floor.calm();
  const thread = (await floor.running.floor.shelved('1042'))?.threads[0]?.thread ?? '';
  const files = [{ name: 'bore.jpg', type: 'image/jpeg', bytes: 3, from: 'x' }];
  const said: Delivery = message('m1', 'Ada', 'wheels chocked, parking brake on', {
    thread,
    files,
  });
  expect(await intake().accept(said)).toBe('new');
  expect(await intake().accept(message('m2', 'Ada', 'battery isolated', { thread }))).toBe('new');
  // Kept, and nothing of it worked off yet.
  expect((await floor.store.waiting()).length).toBe(2);
  arrive(new Uint8Array([1, 2, 3]));
  await floor.calm();
  expect((await floor.store.waiting()).length).toBe(0);
  const events = (await floor.running.floor.shelved('1042'))?.state.events ?? [];
  expect(events.some((event) => event.kind === 'photo-kept')).toBe(true);
  await floor.running.stop();
  await remove();
});
