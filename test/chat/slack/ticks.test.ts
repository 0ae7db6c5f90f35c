// A tick on what a hold point waits behind: it asks, it does not release.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type InAWorkshop, inAWorkshop, MO } from './in-a-workshop.ts';
import { ADA, ROBIN } from './set-up-channel.ts';

let all: InAWorkshop;
let root = '';
let report = '';
beforeEach(async () => {
  all = await inAWorkshop();
  root = await all.open();
  report = await all.said(ADA, 'pressure test held 1.0 bar', root);
}, 60_000);
afterEach(async () => {
  expect(all.fake.refused).toEqual([]);
  await all.end();
});

const tick = async (user: string, ts: string, on = true, sign = 'white_check_mark') => {
  await all.fake.react(user, all.fake.channel, ts, sign, on);
  await all.calm();
};
const released = async () =>
  (await all.eventsOf('1050')).filter((event) => event.kind === 'hold-released');
const asked = () =>
  all.fake.thread(root).filter((each) => each.text.includes('A tick releases nothing.'));

describe('a tick', () => {
  it('of a controller on the report asks for the release, and the button releases', async () => {
    await tick(ROBIN, report);
    expect(asked().length).toBe(1);
    expect(await released()).toEqual([]);
    await all.fake.tap(ROBIN, all.fake.channel, asked()[0]?.ts ?? '', 'Release');
    await all.calm();
    expect(await released()).toMatchObject([{ by: 'Robin', step: 'pressure-test' }]);
    expect(asked()).toEqual([]);
    expect(all.fake.thread(root).map((each) => each.text)).toContain('Released by Robin.');
  });

  it('on the job sheet asks too; a second one does not ask again, one put back does', async () => {
    await tick(ROBIN, root);
    await tick(ROBIN, root, true, 'heavy_check_mark');
    expect(asked().length).toBe(1);
    await tick(ROBIN, root, false);
    await tick(ROBIN, root);
    expect(asked().length).toBe(2);
    expect(await released()).toEqual([]);
  });

  it('of a technician means nothing: colleagues say "seen" with it', async () => {
    await tick(MO, report);
    await tick(ADA, report);
    expect(asked()).toEqual([]);
  });

  it('on another message, or another sign on the report, means nothing', async () => {
    const talk = await all.said(ADA, 'kettle is on', root);
    await tick(ROBIN, talk);
    await tick(ROBIN, report, true, 'eyes');
    expect(asked()).toEqual([]);
  });

  it('is answered by whoever may: the button refuses the technician who did the work', async () => {
    await tick(ROBIN, report);
    await all.fake.tap(ADA, all.fake.channel, asked()[0]?.ts ?? '', 'Release');
    await all.calm();
    expect(await released()).toEqual([]);
    expect(all.fake.thread(root).at(-1)?.text).toContain('may not release');
  });
});
