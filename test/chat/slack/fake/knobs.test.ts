// Each knob of the stand-in, turned by itself: what was asked for happens, so that a test with it in the way means something.
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { WebSocket } from 'undici';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type StoppedClock, stoppedClock } from '../../../conversations/stopped-clock.ts';
import { BOT_TOKEN, CHANNEL, type FakeSlack, fakeSlack } from '../fake-slack.ts';
import { TIERS } from './trouble.ts';

const START = '2026-03-02T09:00:00.000Z';
const ADA = 'U0ADA001';

let clock: StoppedClock;
let fake: FakeSlack;
let app: Server;
/** What the app got, and what it answers. */
let got: { readonly text: string; readonly event: string; readonly retry: string | undefined }[];
let status: number;

beforeEach(async () => {
  clock = stoppedClock(START);
  fake = await fakeSlack({ clock: clock.now, schedule: clock.schedule, patience: 500 });
  got = [];
  status = 200;
  app = createServer((request, response) => {
    const parts: Buffer[] = [];
    request.on('data', (part: Buffer) => parts.push(part));
    request.on('end', () => {
      const body = JSON.parse(Buffer.concat(parts).toString('utf8'));
      const retry = request.headers['x-slack-retry-num'];
      got.push({ text: body.event.text, event: body.event_id, retry: retry as string | undefined });
      if (status > 0) response.writeHead(status).end();
    });
  });
  await new Promise<void>((resolve) => app.listen(0, '127.0.0.1', resolve));
  fake.deliverTo(`http://127.0.0.1:${(app.address() as AddressInfo).port}`);
});
afterEach(async () => {
  app.closeAllConnections();
  await new Promise<void>((resolve) => app.close(() => resolve()));
  await fake.close();
});

const say = (text: string, thread?: string): Promise<string> =>
  fake.post(ADA, CHANNEL, text, thread ? { thread } : {});
const texts = (): readonly string[] => got.map(({ text }) => text);
const later = (seconds: number): Promise<void> =>
  clock.until(new Date(Date.parse(clock.now()) + seconds * 1000).toISOString(), fake.settled);

type Answer = { readonly status: number; readonly after: string | null; readonly body: string };

const call = async (method: string, args: Record<string, string>): Promise<Answer | string> => {
  try {
    const response = await fetch(`${fake.url}${method}`, {
      method: 'POST',
      headers: { authorization: `Bearer ${BOT_TOKEN}` },
      body: new URLSearchParams(args),
      signal: AbortSignal.timeout(300),
    });
    return {
      status: response.status,
      after: response.headers.get('retry-after'),
      body: await response.text(),
    };
  } catch (error) {
    return (error as Error).name === 'TimeoutError' ? 'no answer' : 'cut off';
  }
};
const postText = (text: string, channel = CHANNEL): Promise<Answer | string> =>
  call('chat.postMessage', { channel, text });
const posted = (): number => fake.messages(CHANNEL).length;

describe('deliveries', () => {
  it('come twice, with the same event_id and with another', async () => {
    fake.knobs.double(1);
    await say('one');
    fake.knobs.double(1, true);
    await say('two');
    expect(texts()).toEqual(['one', 'one', 'two', 'two']);
    const ids = got.map(({ event }) => event);
    expect(ids[0]).toBe(ids[1]);
    expect(ids[2]).not.toBe(ids[3]);
  });

  it('come hours late, behind what was posted after them', async () => {
    fake.knobs.late(1, 3 * 3600);
    await say('first');
    await say('second');
    await later(3 * 3600 - 1);
    expect(texts()).toEqual(['second']);
    await later(1);
    expect(texts()).toEqual(['second', 'first']);
  });

  it('change places with the next message of the same thread, and come alone after a minute', async () => {
    const [a, b] = [await say('root a'), await say('root b')];
    fake.knobs.swap(1);
    await say('a1', a);
    await say('b1', b);
    await say('a2', a);
    expect(texts().slice(2)).toEqual(['b1', 'a2', 'a1']);
    fake.knobs.swap(1);
    await say('b2', b);
    await later(60);
    await say('b3', b);
    expect(texts().slice(5)).toEqual(['b2', 'b3']);
  });

  it('change places one pair after the other: none is forgotten for the next', async () => {
    const root = await say('root');
    fake.knobs.swap(2);
    for (const text of ['a1', 'a2', 'a3', 'a4']) await say(text, root);
    expect(texts().slice(1)).toEqual(['a2', 'a1', 'a4', 'a3']);
  });

  it('come again at once, after one minute and after five more, and are then given up', async () => {
    status = 500;
    await say('one');
    expect(got.map(({ retry }) => retry)).toEqual([undefined, '1']);
    await later(60);
    expect(got.length).toBe(3);
    await later(299);
    expect(got.length).toBe(3);
    await later(1);
    expect(got.map(({ retry }) => retry)).toEqual([undefined, '1', '2', '3']);
    expect(fake.givenUp.length).toBe(1);
    await later(24 * 3600);
    expect(got.length).toBe(4);
  });

  it('come again where the acknowledgement was lost, though the app gave one', async () => {
    const heard: unknown[] = [];
    fake.onHeard((body) => heard.push(body));
    fake.knobs.loseAck(1);
    await say('one');
    expect(texts()).toEqual(['one', 'one']);
    expect(heard.length).toBe(2);
    expect(fake.acknowledged.map(({ ok }) => ok)).toEqual([false, true]);
  });

  it('count as not acknowledged where the platform hangs up in the middle', async () => {
    status = 0;
    const saying = say('one');
    await expect.poll(() => got.length).toBe(1);
    status = 200;
    fake.knobs.hangUp();
    await saying;
    expect(fake.acknowledged.map(({ ok }) => ok)).toEqual([false, true]);
  });
});

describe('an outage', () => {
  it('lets no delivery and no call through, cuts the socket and takes no new one', async () => {
    fake.deliverTo(undefined);
    const connect = () => new WebSocket(`${fake.url.replace('http', 'ws').replace('/api/', '')}/s`);
    const before = connect();
    await new Promise((resolve) => before.addEventListener('message', resolve, { once: true }));
    expect(fake.connections()).toBe(1);
    fake.knobs.outage(true);
    expect(fake.connections()).toBe(0);
    await say('one');
    expect(got).toEqual([]);
    expect(await postText('x')).toBe('cut off');
    const during = connect();
    await new Promise((resolve) => during.addEventListener('close', resolve, { once: true }));
    expect(fake.connections()).toBe(0);
    expect(posted()).toBe(1);
    fake.knobs.outage(false);
    expect(await postText('x')).toMatchObject({ status: 200 });
    expect(fake.met.get('away')).toBe(1);
  });
});

describe('calls', () => {
  it.each([
    ['429', 12],
    ['429', 600],
  ] as const)('are answered with %s and Retry-After %i', async (how, seconds) => {
    fake.knobs.fail('chat.postMessage', how, 1, false, seconds);
    expect(await postText('x')).toMatchObject({ status: 429, after: String(seconds) });
    expect(posted()).toBe(0);
    expect(await postText('x')).toMatchObject({ status: 200 });
  });

  it.each([
    ['500', { status: 500 }],
    ['reset', 'cut off'],
    ['hang', 'no answer'],
    [{ error: 'not_in_channel' }, { body: '{"ok":false,"error":"not_in_channel"}' }],
  ] as const)('fail with %o before they took effect, and after', async (how, answer) => {
    for (const after of [false, true]) {
      fake.knobs.fail('chat.postMessage', how, 1, after);
      const seen = await postText('x');
      if (typeof answer === 'string') expect(seen).toBe(answer);
      else expect(seen).toMatchObject(answer);
      expect(posted()).toBe(after ? 1 : 0);
    }
  });

  it('fail for the method that is named, so often as was said', async () => {
    fake.knobs.fail('chat.update', '500', 2);
    expect(await postText('x')).toMatchObject({ status: 200 });
    for (const status of [500, 500, 200])
      expect(await call('chat.update', { channel: CHANNEL, ts: '1', text: 'y' })).toMatchObject({
        status,
      });
  });

  it('are limited to a message a second in each channel, threads included', async () => {
    fake.knobs.member('C0OTHER1', true);
    fake.knobs.limit(TIERS);
    expect(await postText('one')).toMatchObject({ status: 200 });
    expect(await postText('two')).toMatchObject({ status: 429, after: '1' });
    const [root] = fake.messages(CHANNEL);
    const reply = { channel: CHANNEL, text: 'in the thread', thread_ts: root?.ts ?? '' };
    expect(await call('chat.postMessage', reply)).toMatchObject({ status: 429 });
    expect(await postText('elsewhere', 'C0OTHER1')).toMatchObject({ status: 200 });
    await later(1);
    expect(await call('chat.postMessage', reply)).toMatchObject({ status: 200 });
    expect(fake.hurried.length).toBe(2);
  });

  it('are limited for each method by the minute', async () => {
    fake.knobs.limit({ perMinute: { 'reactions.add': 2 } });
    const ts = await say('one');
    const add = (name: string) => call('reactions.add', { channel: CHANNEL, timestamp: ts, name });
    expect(await add('memo')).toMatchObject({ status: 200 });
    await later(20);
    expect(await add('eyes')).toMatchObject({ status: 200 });
    expect(await add('question')).toMatchObject({ status: 429, after: '40' });
    expect(fake.reactions(ts)).toEqual(['memo', 'eyes']);
    await later(40);
    expect(await add('question')).toMatchObject({ status: 200 });
  });
});

describe('what the app sends', () => {
  it('is noticed when it comes twice under one key', async () => {
    const metadata = JSON.stringify({ event_type: 't', event_payload: { key: '1042|reply' } });
    await call('chat.postMessage', { channel: CHANNEL, text: 'x', metadata });
    expect(fake.twice()).toEqual([]);
    await call('chat.postMessage', { channel: CHANNEL, text: 'x', metadata });
    expect(fake.twice()).toEqual(['1042|reply']);
  });

  it.each([
    ['no text', { text: '' }],
    ['a text of 4,001 characters', { text: 'x'.repeat(4001) }],
    ['51 blocks', { text: 'x', blocks: JSON.stringify(Array(51).fill({ type: 'divider' })) }],
    [
      'a section of 3,001 characters',
      {
        text: 'x',
        blocks: JSON.stringify([
          { type: 'section', text: { type: 'mrkdwn', text: 'x'.repeat(3001) } },
        ]),
      },
    ],
    [
      'a button text of 76 characters',
      {
        text: 'x',
        blocks: JSON.stringify([
          {
            type: 'actions',
            elements: [
              { type: 'button', text: { type: 'plain_text', text: 'x'.repeat(76) }, value: '1' },
            ],
          },
        ]),
      },
    ],
    ['a call to the whole channel', { text: 'look <!channel>' }],
  ])('is refused and kept in mind: %s', async (_, args) => {
    expect(await call('chat.postMessage', { channel: CHANNEL, ...args })).toMatchObject({
      body: expect.stringContaining('"ok":false'),
    });
    expect(fake.refused.length).toBeGreaterThan(0);
    expect(posted()).toBe(0);
  });
});
