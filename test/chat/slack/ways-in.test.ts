// Every way in which people say something in Slack, from the platform to the record of a job and back.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type InAWorkshop, inAWorkshop, MO } from './in-a-workshop.ts';
import { ADA, ROBIN } from './set-up-channel.ts';

let all: InAWorkshop;
let root = '';
beforeEach(async () => {
  all = await inAWorkshop();
  root = await all.open('1050');
});
afterEach(async () => {
  expect(all.fake.refused).toEqual([]);
  expect(all.fake.twice()).toEqual([]);
  await all.end();
});

const ownPosts = (channel: string) =>
  all.fake.messages(channel).filter((each) => each.user === all.fake.bot.user);
const state = async (step: string) =>
  (await all.floor().floor.shelved('1050'))?.state.view.steps.find((each) => each.step === step)
    ?.state;
const SAID = ['Ada: battery isolated'];

describe('a report is recorded and signed', () => {
  it('in the thread of its job, and nothing is said', async () => {
    const before = all.fake.thread(root).length;
    const ts = await all.said(ADA, 'battery isolated', root);
    expect(await all.messagesOf('1050')).toEqual(SAID);
    expect(all.fake.reactions(ts)).toEqual(['memo']);
    expect(all.fake.thread(root).length).toBe(before + 1);
  });

  it('shown in the channel as well', async () => {
    const ts = await all.said(ADA, 'battery isolated', { thread: root, broadcast: true });
    expect(await all.messagesOf('1050')).toEqual(SAID);
    expect(all.fake.reactions(ts)).toEqual(['memo']);
  });

  it('in the channel, where it names its job', async () => {
    const ts = await all.said(ADA, '1050 battery isolated');
    expect(await all.messagesOf('1050')).toEqual(['Ada: 1050 battery isolated']);
    expect(all.fake.reactions(ts)).toEqual(['memo']);
  });

  it('with a mention of the bot, once', async () => {
    await all.said(ADA, `<@${all.fake.bot.user}> battery isolated`, { thread: root, raw: true });
    expect(await all.messagesOf('1050')).toHaveLength(1);
    expect(await state('isolate-battery')).toBe('done');
  });

  it('directly to the bot', async () => {
    const direct = `D${ADA.slice(1)}`;
    const ts = await all.fake.post(ADA, direct, '1050 battery isolated');
    await all.calm();
    expect(await state('isolate-battery')).toBe('done');
    expect(all.fake.reactions(ts)).toEqual(['memo']);
  });

  it('by the command, in plain words', async () => {
    await all.fake.command(ADA, all.fake.channel, '1050 battery isolated');
    await all.calm();
    expect(await state('isolate-battery')).toBe('done');
  });
});

describe('a question is answered', () => {
  it('in the thread, with one reply', async () => {
    const before = all.fake.thread(root).length;
    await all.said(ADA, "what's next", root);
    expect(all.fake.thread(root).length).toBe(before + 2);
  });

  it('directly, where it was asked', async () => {
    const direct = `D${MO.slice(1)}`;
    await all.fake.post(MO, direct, 'open jobs');
    await all.calm();
    const answers = ownPosts(direct);
    expect(answers).toHaveLength(1);
    expect(answers[0]?.text).toContain('1050');
  });

  it('by the command, for the asker alone', async () => {
    const before = ownPosts(all.fake.channel).filter((each) => !each.onlyFor).length;
    await all.fake.command(ROBIN, all.fake.channel, 'open jobs');
    await all.calm();
    expect(ownPosts(all.fake.channel).filter((each) => !each.onlyFor).length).toBe(before);
    expect(all.fake.everything().filter((each) => each.onlyFor === ROBIN).length).toBe(1);
  });
});

describe('what is amended', () => {
  it('an edit is read anew, a deletion leaves the step without a record', async () => {
    const ts = await all.said(ADA, 'batery isolatd or so', root);
    await all.fake.edit(all.fake.channel, ts, 'battery isolated');
    await all.calm();
    expect(await state('isolate-battery')).toBe('done');
    await all.fake.unfurl(all.fake.channel, ts);
    await all.fake.delete(all.fake.channel, ts);
    await all.calm();
    expect(await state('isolate-battery')).toBe('open');
    expect((await all.eventsOf('1050')).map(({ kind }) => kind)).toContain('message-deleted');
  });
});

describe('a question with buttons', () => {
  it('is closed in place when one is tapped: nothing is left to tap, and no second reply stands there', async () => {
    const { fake } = all;
    await all.said(ADA, 'handbrake on, wheels chocked', root);
    const asking = await all.said(ADA, 'coolant temp 32 deg', root);
    expect(fake.reactions(asking)).toEqual(['question']);
    const card = fake.thread(root).find((each) => each.bot_id && each.ts > asking);
    const buttons = () =>
      JSON.stringify(fake.thread(root).find((each) => each.ts === card?.ts)?.blocks).split(
        '"type":"button"',
      ).length - 1;
    expect(buttons()).toBeGreaterThan(0);
    const before = fake.thread(root).length;
    // Somebody who was not there answers nothing.
    await fake.tap(MO, fake.channel, card?.ts ?? '', 'Let the engine cool down');
    await all.calm();
    expect(buttons()).toBeGreaterThan(0);
    await fake.tap(ADA, fake.channel, card?.ts ?? '', 'Let the engine cool down');
    await all.calm();
    expect(buttons()).toBe(0);
    expect(fake.thread(root).find((each) => each.ts === card?.ts)?.text).toContain(
      'Answered by Ada',
    );
    // The one more is what the one who was not there was told.
    expect(fake.thread(root).length - before).toBeLessThanOrEqual(1);
  });
});

describe('a stop', () => {
  it('stands in the thread and in the channel, and names the controller there', async () => {
    await all.said(ADA, 'coolant drained 30 L', root);
    all.time.forward(30);
    await all.said(ADA, 'tea', root);
    const stops = ownPosts(all.fake.channel).filter(
      (each) => !each.thread_ts && each.text.includes('STOP. Skipped'),
    );
    expect(stops).toHaveLength(1);
    expect(stops[0]?.text).toContain(`<@${ROBIN}>`);
    const there = all.fake.thread(root).filter((each) => each.text.includes('STOP. Skipped'));
    expect(there).toHaveLength(1);
  });
});
