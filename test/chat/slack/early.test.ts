// Edits and deletions in the open channel: of a message that is still on the way, and of one that waits for its job.
import { afterEach, beforeEach, expect, it } from 'vitest';
import { type InAWorkshop, inAWorkshop, MO } from './in-a-workshop.ts';
import { ADA, ROBIN } from './set-up-channel.ts';

let all: InAWorkshop;
beforeEach(async () => {
  all = await inAWorkshop();
  await all.open('1050');
  await all.open('1051', 'Mo');
});
afterEach(() => all.end());

/** Posts and changes a message so that what was changed arrives first. */
const backwards = async (text: string, change: (ts: string) => Promise<void>): Promise<void> => {
  const { fake } = all;
  fake.knobs.hold();
  const ts = await fake.post(ADA, fake.channel, text);
  all.time.forward(5);
  await change(ts);
  await fake.knobs.release('reversed');
  await all.calm();
};
const marks = async () =>
  Promise.all(['early:slack:T0DEPOT1:C0SHOP01'].map((name) => all.floor().floor.store.mark(name)));

it('an edit that comes before its message is what the message says', async () => {
  await backwards('1050 battery isolatd by nobody', (ts) =>
    all.fake.edit(all.fake.channel, ts, '1050 battery isolated'),
  );
  expect(await all.messagesOf('1050')).toEqual(['Ada: 1050 battery isolated']);
});

it('a message whose deletion came first is not recorded', async () => {
  await backwards('1050 battery isolated', (ts) => all.fake.delete(all.fake.channel, ts));
  expect(await all.messagesOf('1050')).toEqual([]);
  expect(all.fake.refused).toEqual([]);
});

it('an edit of a message that waits for its job is recorded with it, a deletion takes it out', async () => {
  const { fake } = all;
  for (const [change, expected] of [
    [(ts: string) => fake.edit(fake.channel, ts, 'fluids caught'), ['Ada: fluids caught']],
    [(ts: string) => fake.delete(fake.channel, ts), ['Ada: fluids caught']],
  ] as const) {
    const ts = await all.said(ADA, 'the kettle is on');
    await fake.shortcut(ROBIN, 'record-message', fake.channel, ts);
    await change(ts);
    await all.calm();
    await fake.submitForm(ROBIN, { job: '1051' });
    await all.calm();
    expect(await all.messagesOf('1051')).toEqual(expected);
  }
});

it('what is edited or deleted of the day’s talk is not kept', async () => {
  const { fake } = all;
  const talk = await all.said(MO, 'who has the long puller');
  await fake.edit(fake.channel, talk, 'who has the long puller now');
  await fake.delete(fake.channel, talk);
  await all.calm();
  expect((await marks()).join('')).toBe('');
});
