// The channel against the stand-in, over HTTP and over the socket: the same things happen, with the same outcome.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Card, Form } from '../../../src/desk/card.ts';
import { chooseJobForm } from '../../../src/desk/choose-job-form.ts';
import { ADA, joined, ROBIN, until } from './set-up-channel.ts';

const REASON: Form = {
  title: 'Override with a reason, please',
  submit: 'Override',
  fields: [{ name: 'reason', label: 'Why', kind: 'long-text', required: true }],
};
const OPEN: Form = {
  title: 'Open a job',
  submit: 'Open job',
  fields: [
    { name: 'job', label: 'Job number', kind: 'text', required: true },
    {
      name: 'plan',
      label: 'Work',
      kind: 'choice',
      required: true,
      choices: [{ value: 'coolant-pump', label: 'Renew the coolant pump' }],
    },
    { name: 'promised', label: 'Promised for', kind: 'date-time', required: false },
  ],
};
const CARD: Card = {
  text: 'STOP. Skipped: "Drain the coolant". For Robin.',
  title: 'STOP, job 1042, bus 17',
  level: 'stop',
  blocks: [{ kind: 'text', text: 'Skipped: "Drain the coolant".' }],
  actions: [
    {
      label: 'I have seen it',
      weight: 'main',
      intent: { do: 'acknowledge', job: '1042', flag: 'f' },
    },
    {
      label: 'Override',
      weight: 'grave',
      intent: { do: 'override', job: '1042', flag: 'f' },
      form: REASON,
    },
  ],
  tells: ['Robin', 'Mo'],
};

for (const mode of ['http', 'socket'] as const)
  describe(`over ${mode}`, () => {
    let all: Awaited<ReturnType<typeof joined>>;
    beforeEach(async () => {
      all = await joined(mode, {
        patience: 2_000,
        formFor: (intent) =>
          intent.do === 'override'
            ? REASON
            : intent.do === 'open-job'
              ? OPEN
              : intent.do === 'choose-job'
                ? chooseJobForm([{ job: '1042', vehicle: 'bus 17' }])
                : undefined,
      });
    });
    afterEach(async () => {
      expect(all.fake.refused).toEqual([]);
      await all.end();
    });

    const posted = async (thread?: string) => {
      const place = { team: '', place: all.fake.channel, ...(thread ? { thread } : {}) };
      const result = await all.channel.post(place, CARD, '1042|flag:f');
      if (!result.ok) throw new Error(JSON.stringify(result.failure));
      return result.posted;
    };

    it('keeps what is posted, replied, edited, deleted and reacted', async () => {
      const { fake, floor } = all;
      const root = await fake.post(ADA, fake.channel, 'temps < 40 & falling');
      await fake.post(ADA, fake.channel, 'drained 28 L', root);
      await fake.edit(fake.channel, root, 'temps < 50 & falling');
      await fake.unfurl(fake.channel, root);
      await fake.react(ROBIN, fake.channel, root, 'eyes');
      await fake.delete(fake.channel, root);
      expect(floor.kept.map((each) => each.kind)).toEqual([
        'message',
        'message',
        'edit',
        'reaction',
        'delete',
      ]);
      expect(floor.texts()).toEqual([
        'temps < 40 & falling',
        'drained 28 L',
        'temps < 50 & falling',
      ]);
      expect(floor.kept[1]).toMatchObject({ thread: root, place: fake.channel, team: fake.team });
      expect(fake.acknowledged.every((each) => each.ok)).toBe(true);
    });

    it('keeps a mention once, though it comes as message and as mention', async () => {
      const { fake, floor } = all;
      await fake.post(ADA, fake.channel, `<@${fake.bot.user}> where are we`, { raw: true });
      expect(floor.texts()).toEqual(['where are we']);
      expect(fake.acknowledged.length).toBe(2);
    });

    it('keeps once what comes twice, with the same event_id and with another', async () => {
      const { fake, floor } = all;
      fake.knobs.double(1);
      await fake.post(ADA, fake.channel, 'one');
      fake.knobs.double(1, true);
      await fake.post(ADA, fake.channel, 'two');
      expect(fake.acknowledged.length).toBe(4);
      expect(floor.texts()).toEqual(['one', 'two']);
    });

    it('keeps once what is sent again because the acknowledgement was lost', async () => {
      const { fake, floor } = all;
      fake.knobs.loseAck(2);
      await fake.post(ADA, fake.channel, 'one');
      expect(fake.acknowledged.map((each) => each.ok)).toEqual([false, false, true]);
      expect(floor.texts()).toEqual(['one']);
    });

    it('does not acknowledge what was not kept: it comes again and is kept then', async () => {
      const { fake, floor } = all;
      floor.fail(1);
      await fake.post(ADA, fake.channel, 'one');
      expect(fake.acknowledged.map((each) => each.ok)).toEqual([false, true]);
      expect(floor.texts()).toEqual(['one']);
    });

    it('takes messages in any order, each with its own time', async () => {
      const { fake, floor, time } = all;
      fake.knobs.hold();
      await fake.post(ADA, fake.channel, 'first');
      time.forward(60);
      await fake.post(ADA, fake.channel, 'second');
      await fake.knobs.release('reversed');
      expect(floor.texts()).toEqual(['second', 'first']);
      expect(floor.kept.map((each) => each.at)).toEqual([
        '2026-03-02T09:01:00.000Z',
        '2026-03-02T09:00:00.000Z',
      ]);
    });

    it('fetches a photo that was shared, and no file from elsewhere', async () => {
      const { fake, floor, channel } = all;
      const bytes = Buffer.from('a photo');
      await fake.post(ADA, fake.channel, '', {
        files: [{ name: 'bore.jpg', mimetype: 'image/jpeg', bytes }],
      });
      const [kept] = floor.kept;
      const from = kept?.kind === 'message' ? (kept.files?.[0]?.from ?? '') : '';
      expect(Buffer.from((await channel.fetch?.(from, 100)) ?? [])).toEqual(bytes);
      await expect(channel.fetch?.(from, 3)).rejects.toThrow('larger than 3 bytes');
      await expect(channel.fetch?.('https://example.org/slack.com', 100)).rejects.toThrow(
        'not kept by Slack',
      );
    });

    it('posts a card, changes it, pins it, and hears none of that as anybody’s words', async () => {
      const { fake, floor, channel } = all;
      const at = await posted();
      const [message] = fake.messages(fake.channel);
      expect(message?.text).toBe(`STOP. Skipped: "Drain the coolant". For Robin. <@${ROBIN}>`);
      expect(at.place.team).toBe(fake.team);
      expect((await channel.edit(at, { text: 'No longer standing', blocks: [] })).ok).toBe(true);
      expect(fake.messages(fake.channel).map((each) => each.text)).toEqual(['No longer standing']);
      expect((await channel.pin?.(at))?.ok).toBe(true);
      expect((await channel.pin?.(at))?.ok).toBe(true);
      expect(fake.pins(fake.channel)).toEqual([at.message]);
      await fake.settled();
      expect(floor.kept).toEqual([]);
    });

    it('shows with a reaction that a message is recorded, and takes the question mark away', async () => {
      const { fake, channel, floor } = all;
      const ts = await fake.post(ADA, fake.channel, 'drained 28 L');
      const place = { team: '', place: fake.channel };
      const sign = (mark: 'recorded' | 'asked' | 'unrecorded') => channel.sign(place, ts, mark);
      expect((await sign('asked')).ok).toBe(true);
      expect(fake.reactions(ts)).toEqual(['question']);
      expect((await sign('recorded')).ok).toBe(true);
      expect((await sign('recorded')).ok).toBe(true);
      expect(fake.reactions(ts)).toEqual(['memo']);
      expect((await sign('unrecorded')).ok).toBe(true);
      expect((await sign('unrecorded')).ok).toBe(true);
      expect(fake.reactions(ts)).toEqual([]);
      await fake.settled();
      expect(floor.kept.length).toBe(1);
    });

    it('takes a tap, with what the button means', async () => {
      const { fake, floor } = all;
      const root = await fake.post(ADA, fake.channel, 'root');
      const { message } = await posted(root);
      await fake.tap(ROBIN, fake.channel, message, 'I have seen it');
      expect(floor.kept.at(-1)).toMatchObject({
        kind: 'tap',
        person: ROBIN,
        thread: root,
        message,
        intent: '{"do":"acknowledge","job":"1042","flag":"f"}',
      });
    });

    it('shows the form behind a button at once and takes it when it is filled', async () => {
      const { fake, floor } = all;
      const { message } = await posted();
      await fake.tap(ROBIN, fake.channel, message, 'Override');
      expect(floor.kept).toEqual([]);
      expect(fake.view(ROBIN)).toMatchObject({ title: { text: 'Override with a reason,…' } });
      await fake.submitForm(ROBIN, { reason: 'drained yesterday' });
      expect(floor.kept).toMatchObject([
        {
          kind: 'tap',
          person: ROBIN,
          place: fake.channel,
          message,
          intent: '{"do":"override","job":"1042","flag":"f"}',
          fields: { reason: 'drained yesterday' },
        },
      ]);
    });

    it('takes a command, opens the form for a job by command and by shortcut', async () => {
      const { fake, floor } = all;
      await fake.command(ADA, fake.channel, 'open jobs');
      expect(floor.kept).toMatchObject([{ kind: 'command', text: 'open jobs', person: ADA }]);
      await fake.command(ADA, fake.channel, 'open a job');
      await fake.submitForm(ADA, {
        job: '1050',
        plan: 'coolant-pump',
        promised: '2026-03-02T14:30:00Z',
      });
      expect(floor.kept[1]).toMatchObject({
        kind: 'tap',
        place: fake.channel,
        intent: '{"do":"open-job"}',
        fields: { job: '1050', plan: 'coolant-pump', promised: '2026-03-02T14:30:00.000Z' },
      });
      await fake.shortcut(ROBIN, 'open-job');
      expect(fake.view(ROBIN)).toMatchObject({ title: { text: 'Open a job' } });
    });

    it('sets a message aside by shortcut, heard before or not, and asks for its job with a form', async () => {
      const { fake, floor } = all;
      const ts = await fake.post(ADA, fake.channel, 'drained 28 L');
      await fake.shortcut(ROBIN, 'record-message', fake.channel, ts);
      expect(floor.aside).toMatchObject([{ kind: 'message', text: 'drained 28 L', person: ADA }]);
      expect(fake.view(ROBIN)).toMatchObject({ title: { text: 'Record under a job' } });
      await fake.submitForm(ROBIN, { job: '1042' });
      expect(floor.kept.filter((each) => each.kind === 'tap')).toMatchObject([
        {
          kind: 'tap',
          person: ROBIN,
          thread: ts,
          intent: JSON.stringify({ do: 'choose-job', delivery: floor.aside[0]?.id, job: '' }),
          fields: { job: '1042' },
        },
      ]);
      expect(floor.texts()).toEqual(['drained 28 L']);
    });

    it('answers one person alone where nothing stands to reply to, and directly where it is no member', async () => {
      const { fake, channel } = all;
      const card: Card = { text: 'No job is open.', blocks: [] };
      await channel.post({ team: '', place: fake.channel, person: ADA }, card, 'k');
      expect(fake.whispers(ADA).map((each) => each.text)).toEqual(['No job is open.']);
      expect(fake.messages(fake.channel)).toEqual([]);
      const elsewhere = await channel.post({ team: '', place: 'C0OTHER1', person: ADA }, card, 'k');
      expect(elsewhere.ok && elsewhere.posted.place.place).toMatch(/^D/u);
      const direct = await channel.post({ team: '', place: ADA }, card, 'k');
      expect(direct.ok && direct.posted.place.place).toMatch(/^D/u);
    });

    it('finds a post again after an unclear failure, in a thread and in the channel', async () => {
      const { fake, channel } = all;
      const root = await fake.post(ADA, fake.channel, 'root');
      for (const thread of [undefined, root]) {
        const place = { team: '', place: fake.channel, ...(thread ? { thread } : {}) };
        const key = `1042|${thread ?? 'channel'}`;
        expect(await channel.find?.(place, key)).toBeUndefined();
        fake.knobs.fail('chat.postMessage', 'reset', 1, true);
        const lost = await channel.post(place, CARD, key);
        expect(lost).toMatchObject({ ok: false, failure: { kind: 'unclear' } });
        const found = await channel.find?.(place, key);
        expect(found?.message).toBeTypeOf('string');
        expect(found?.place.team).toBe(fake.team);
      }
      expect(fake.calls.filter((each) => each.method === 'chat.postMessage').length).toBe(2);
    });

    it.each([
      ['429', { kind: 'wait', seconds: 7 }],
      ['500', { kind: 'unclear' }],
      ['reset', { kind: 'unclear' }],
      ['hang', { kind: 'unclear' }],
      [{ error: 'not_in_channel' }, { kind: 'refused' }],
    ] as const)(
      'says of a post that met %s what to do next, and calls once',
      async (how, failure) => {
        const { fake, channel } = all;
        fake.knobs.fail('chat.postMessage', how);
        const result = await channel.post({ team: '', place: fake.channel }, CARD, 'k');
        expect(result).toMatchObject({ ok: false, failure });
        expect(fake.calls.filter((each) => each.method === 'chat.postMessage').length).toBe(1);
      },
    );

    it('posts the text alone where the blocks are refused', async () => {
      const { fake, channel } = all;
      fake.knobs.fail('chat.postMessage', { error: 'invalid_blocks' });
      const result = await channel.post({ team: '', place: fake.channel }, CARD, 'k');
      expect(result.ok).toBe(true);
      expect(fake.messages(fake.channel)[0]).toMatchObject({ blocks: [] });
    });

    it('says it where the bot is not in the channel', async () => {
      const { channel } = all;
      const result = await channel.post({ team: '', place: 'C0OTHER1' }, CARD, 'k');
      expect(result).toEqual({
        ok: false,
        failure: { kind: 'refused', why: 'The bot is not in the channel. Invite it there.' },
      });
    });
  });

describe('over the socket', () => {
  it('connects again after a farewell and after a cut, and reads what was missed', async () => {
    const { fake, floor, time, end, log } = await joined('socket', {
      patience: 60,
      parts: {
        wait: (seconds, signal) =>
          new Promise((resolve) => {
            const timer = setTimeout(resolve, Math.min(seconds * 1000, seconds === 20 ? 2_000 : 5));
            signal?.addEventListener('abort', () => {
              clearTimeout(timer);
              resolve();
            });
          }),
      },
    });
    await until(() => fake.connections() === 1, 'it is connected');
    const root = await fake.post(ADA, fake.channel, 'before');
    fake.knobs.renew();
    await until(
      () => fake.calls.filter((each) => each.method === 'apps.connections.open').length === 2,
    );
    await until(() => fake.connections() === 1);

    fake.knobs.fail('apps.connections.open', '500', 3);
    fake.knobs.cut();
    time.forward(60);
    // Nobody listens: the platform gives up on these.
    await fake.post(ADA, fake.channel, 'missed in the channel');
    await fake.post(ADA, fake.channel, 'missed in the thread', root);
    await until(() => floor.texts().length === 3, 'what was missed is read');
    expect(floor.texts()).toEqual(['before', 'missed in the channel', 'missed in the thread']);
    await until(() => fake.connections() === 1);
    await fake.post(ADA, fake.channel, 'after');
    expect(floor.texts().at(-1)).toBe('after');
    expect(log.some(([, what]) => what.includes('not connected'))).toBe(true);
    await end();
  });
});
