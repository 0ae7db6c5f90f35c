// The message that opens a job is signed like every other: what the platform does not take is tried again.
import { afterEach, beforeEach, expect, it } from 'vitest';
import {
  floorOn,
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

beforeEach(async () => {
  ({ folder, remove } = await temporaryFolder());
});
afterEach(async () => {
  await floor.running.stop();
  await remove();
});

it('is signed once the platform takes it, over a restart too', async () => {
  const bench = keepingChannel('bench');
  const { sign } = bench.channel;
  let away = true;
  Object.assign(bench.channel, {
    sign: async (...given: Parameters<typeof sign>) =>
      away ? { ok: false, failure: { kind: 'unclear', why: 'reset' } } : sign(...given),
  });
  floor = await floorOn(folder, [bench]);
  await bench.intake().accept(message('m0', 'Robin', OPEN));
  await expect.poll(() => floor.clock.waitsFor('outbox')).toBe(true);
  expect(bench.signs).toEqual([]);
  await floor.running.stop();
  away = false;
  floor = await floorOn(folder, [bench], START);
  await floor.calm();
  expect(bench.signs).toEqual([{ message: 'm0', mark: 'recorded' }]);
});
