// Deletions that the platform told nobody of: found by what is gone, and never taken from a message that is there.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { HeardMessage } from '../../../src/chat/channel.ts';
import { goneFrom } from '../../../src/chat/slack/gone.ts';
import { webClient } from '../../../src/chat/slack/web.ts';
import { BOT_TOKEN, type FakeSlack, fakeSlack } from './fake-slack.ts';
import { type InAWorkshop, inAWorkshop, MO } from './in-a-workshop.ts';
import { ADA, START, stillClock, until } from './set-up-channel.ts';

describe('a message that was deleted while the bot was away', () => {
  let all: InAWorkshop;
  beforeEach(async () => {
    all = await inAWorkshop();
  });
  afterEach(async () => {
    expect(all.fake.refused).toEqual([]);
    await all.end();
  });

  const deleted = async () =>
    (await all.eventsOf('1050')).flatMap((event) =>
      event.kind === 'message-deleted' ? [[event.message.split(':').at(-1), event.by]] : [],
    );
  const state = async (step: string) =>
    (await all.floor().floor.shelved('1050'))?.state.view.steps.find((each) => each.step === step)
      ?.state;

  it('leaves its step without a record, and nothing else is touched', async () => {
    const { fake, said, time } = all;
    const root = await all.open();
    await said(ADA, 'wheels chocked, parking brake on', root);
    const wrong = await said(ADA, 'battery isolated', root);
    await said(MO, 'tea at ten', root);
    expect(await state('isolate-battery')).toBe('done');
    await all.stop();
    time.forward(20 * 60);
    await fake.delete(fake.channel, wrong);
    await fake.post(ADA, fake.channel, 'who has the long puller', root);
    await all.start();
    await until(
      () => fake.calls.filter(({ args }) => args.ts === wrong && args.limit === '1').length > 0,
      'the one that is missing is asked for',
    );
    await all.calm();
    expect(await deleted()).toEqual([[wrong, 'Ada']]);
    expect(await state('isolate-battery')).toBe('open');
    expect(await all.messagesOf('1050')).toHaveLength(4);
  });

  it('is taken for there while the thread cannot be read to its end', async () => {
    const { fake, said, time } = all;
    const root = await all.open();
    const wrong = await said(ADA, 'battery isolated', root);
    await all.stop();
    time.forward(20 * 60);
    await fake.delete(fake.channel, wrong);
    fake.knobs.fail('conversations.replies', { error: 'missing_scope' }, 5);
    await all.start();
    await until(
      () => fake.calls.filter(({ method }) => method === 'conversations.replies').length > 0,
      'it was tried',
    );
    await all.calm();
    expect(await deleted()).toEqual([]);
  });
});

describe('what is gone from a place', () => {
  const clock = stillClock();
  let fake: FakeSlack;
  let there: string;
  let gone: string;
  let root: string;

  beforeEach(async () => {
    fake = await fakeSlack({ clock: clock.now });
    root = await fake.post(ADA, fake.channel, 'bus 17');
    there = await fake.post(ADA, fake.channel, 'drained 28 L', root);
    gone = await fake.post(ADA, fake.channel, 'battery isolated', root);
    await fake.delete(fake.channel, gone);
  });
  afterEach(() => fake.close());

  const found = async (
    heard: readonly HeardMessage[],
    listing: { shown?: string[]; whole?: boolean; threads?: string[] } = {},
    more: { from?: number; now?: string } = {},
  ) =>
    (
      await goneFrom({
        web: webClient(BOT_TOKEN, { slackApiUrl: fake.url, timeout: 1_000 }, () => undefined),
        around: {
          self: { team: fake.team, user: fake.bot.user },
          nameOf: () => undefined,
          now: more.now ?? START,
        },
        place: fake.channel,
        heard,
        listing: {
          shown: new Set(listing.shown ?? [root, there]),
          whole: listing.whole ?? true,
          threads: new Set(listing.threads ?? [root]),
        },
        from: more.from ?? 0,
        wait: async () => undefined,
      })
    ).map((delivery) => [delivery.kind, delivery.id, delivery.person, delivery.thread]);

  const one = (message: string): HeardMessage => ({ message, person: ADA, threads: [root] });
  const asked = () =>
    fake.calls
      .filter(({ method }) => method === 'conversations.replies')
      .map(({ args }) => args.ts);

  it('is a deletion by its writer, under the id that a live one has', async () => {
    expect(await found([one(there), one(gone)])).toEqual([
      ['delete', `slack:${fake.team}:${fake.channel}:${gone}:deleted`, ADA, root],
    ]);
    expect(asked()).toEqual([gone]);
  });

  it('is not one that is in no listing but is there when it is asked for', async () => {
    expect(await found([one(there)], { shown: [root] })).toEqual([]);
    expect(asked()).toEqual([there]);
  });

  it.each([
    ['the channel was not read to its end', { whole: false }, {}],
    ['a thread of its job was not read to its end', { threads: [] }, {}],
    ['it is older than what was listed', {}, { from: Date.parse(START) / 1000 + 60 }],
    [
      'it is so old that a workspace may have let it go by itself',
      {},
      { now: new Date(Date.parse(START) + 21 * 3600_000).toISOString() },
    ],
  ])('is nothing that can be told where %s', async (_why, listing, more) => {
    expect(await found([one(gone)], listing, more)).toEqual([]);
    expect(asked()).toEqual([]);
  });

  it.each(['500', 'reset'] as const)('is not told after a %s', async (how) => {
    fake.knobs.fail('conversations.replies', how, 1);
    expect(await found([one(gone)])).toEqual([]);
  });

  it('is asked for again where Slack says to wait', async () => {
    fake.knobs.fail('conversations.replies', '429', 2);
    expect(await found([one(gone)])).toHaveLength(1);
  });
});
