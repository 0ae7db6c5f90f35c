// What only counts as a person's own word: seen in words, in changed words and in taps, and nothing else is.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Delivery } from '../../shared/delivery.ts';
import { loadPlan } from '../../src/job/load-plan.ts';
import { ROOT } from '../layout/sources.ts';
import {
  floorOn,
  keepingChannel,
  message,
  OPEN,
  pump,
  START,
  type TestFloor,
  tap,
  temporaryFolder,
} from './workshop-floor.ts';

const brakes = (() => {
  const file = 'data/plans/brake-drive-axle.yaml';
  const { plan } = loadPlan(readFileSync(join(ROOT, file), 'utf8'), file);
  if (!plan) throw new Error(`${file} has errors.`);
  return plan;
})();

let folder: Awaited<ReturnType<typeof temporaryFolder>>;
let floor: TestFloor;
const keeping = keepingChannel();
beforeEach(async () => {
  folder = await temporaryFolder();
  floor = await floorOn(folder.folder, [keeping], START, undefined, [pump, brakes]);
});
afterEach(async () => {
  await floor.running.stop();
  await folder.remove();
});

let number = 0;
const say = async (person: string, text: string, thread?: string): Promise<void> => {
  number += 1;
  const said = message(`m${number}`, person, text, thread === undefined ? {} : { thread });
  await keeping.intake().accept(said);
  await floor.calm();
};
const ownWord = (delivery: Delivery) => floor.running.intake.ownWordIn?.(delivery);
const threadOf = async (job: string): Promise<string> =>
  (await floor.running.floor.shelved(job))?.threads[0]?.thread ?? '';
const would = async (person: string, text: string, job: string) =>
  ownWord(message('would', person, text, { thread: await threadOf(job) }));

describe('a release', () => {
  const intent = JSON.stringify({
    do: 'release',
    job: '1042',
    step: 'pressure-test',
    position: null,
  });
  beforeEach(async () => {
    await say('Robin', OPEN);
    await say('Ada', 'pressure tested, 1.2 bar', await threadOf('1042'));
  });

  it('is seen in words, in the thread and in the yard', async () => {
    expect(await would('Robin', 'pressure test released', '1042')).toBe('A release');
    const loose = message('would', 'Robin', 'job 1042 pressure test released');
    expect(await ownWord(loose)).toBe('A release');
  });

  it('is seen in a tap, and nothing of the trial is kept', async () => {
    const before = (await floor.running.floor.shelved('1042'))?.state.events.length;
    expect(await ownWord(tap('t1', 'Robin', intent))).toBe('A release');
    expect((await floor.running.floor.shelved('1042'))?.state.events.length).toBe(before);
    const hold = (await floor.running.floor.shelved('1042'))?.state.view.holds[0];
    expect(hold?.state).toBe('waits');
  });

  it('is none in the hands of those who may not, for nothing comes of it', async () => {
    expect(await ownWord(tap('t1', 'Ada', intent))).toBeUndefined();
  });

  it('is none in ordinary reports and talk', async () => {
    for (const text of [
      'battery isolated',
      'morning all',
      'when will it be ready?',
      'drained 26 L',
    ])
      expect(await would('Ada', text, '1042'), text).toBeUndefined();
  });
});

const CHECKED = 'second check done on the brakes, bolts and nuts checked';

describe('an independent check', () => {
  it('is seen where a report brings it about', async () => {
    await say('Robin', `open job 1043 bus 9 ${brakes.title} tech Ada`);
    const said = await would(
      'Mo',
      'second check done on the brakes, bolts and nuts checked',
      '1043',
    );
    expect(said).toMatch(/^The independent check "Second person checks caliper bolts/);
    expect(await would('Mo', 'wheels chocked', '1043')).toBeUndefined();
  });

  it('is seen where changed words bring it about', async () => {
    await say('Robin', `open job 1043 bus 9 ${brakes.title} tech Ada`);
    const thread = await threadOf('1043');
    await say('Mo', 'morning', thread);
    const edit = (text: string): Delivery => ({
      ...message(`m${number}`, 'Mo', text, { thread }),
      id: 'bench:edit-1',
      kind: 'edit',
      message: `m${number}`,
      text,
    });
    expect(await ownWord(edit(CHECKED))).toMatch(/^The independent check/);
    expect(await ownWord(edit('morning all'))).toBeUndefined();
  });
});
