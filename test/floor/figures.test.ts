// Questions for a figure, in a job's thread and outside.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  floorOn,
  keepingChannel,
  message,
  OPEN,
  type TestFloor,
  temporaryFolder,
} from './workshop-floor.ts';

let folder: string;
let remove: () => Promise<void>;
let floor: TestFloor;
const bench = { of: keepingChannel() };
beforeEach(async () => {
  ({ folder, remove } = await temporaryFolder());
  bench.of = keepingChannel();
  floor = await floorOn(folder, [bench.of]);
});
afterEach(async () => {
  await floor.running.stop();
  await remove();
});

const say = async (id: string, person: string, text: string, thread?: string): Promise<string> => {
  const before = bench.of.texts().length;
  await bench.of.intake().accept(message(id, person, text, thread ? { thread } : {}));
  await floor.calm();
  return bench.of.texts().slice(before).join(' / ');
};

// 300 N·m x 400 / (400 + 100) = 240 N·m: an extension in line lengthens the arm.
const WRENCH = 'what do I set the wrench to for 300 nm with a 100 mm extension on a 400 mm arm';

describe('a question for a figure', () => {
  it('outside a job is answered, figure first, with the caution', async () => {
    const answer = await say('q1', 'Ada', WRENCH);
    expect(answer).toMatch(/^Set 240 N·m/u);
    expect(answer).toContain("maker's data");
  });

  it('in a job is answered and records nothing', async () => {
    await say('open', 'Robin', OPEN);
    const thread = (await floor.running.floor.shelved('1042'))?.threads[0]?.thread;
    const answer = await say('q1', 'Ada', WRENCH, thread);
    expect(answer).toMatch(/^Set 240 N·m/u);
    expect(
      (await floor.running.floor.shelved('1042'))?.state.view.steps.every(
        ({ state }) => state === 'open' || state === 'not-on-job',
      ),
    ).toBe(true);
  });

  it('a report is never taken for a question', async () => {
    await say('open', 'Robin', OPEN);
    const thread = (await floor.running.floor.shelved('1042'))?.threads[0]?.thread;
    expect(await say('m1', 'Ada', 'drained 26 L of coolant', thread)).not.toContain('unaccounted');
    expect((await floor.running.floor.shelved('1042'))?.state.view.fluids[0]?.drained).toBe(26);
  });
});
