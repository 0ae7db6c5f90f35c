// Signed requests on loopback, through the receiver, Bolt and the listeners to a floor that keeps them.
import { connect } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { BODY_LIMIT } from '../../../src/chat/slack/request-receiver.ts';
import { signatureOf } from '../../../src/chat/slack/signature.ts';
import { SIGNING_SECRET } from './fake-slack.ts';
import { ADA, joined } from './set-up-channel.ts';

let all: Awaited<ReturnType<typeof joined>>;
beforeEach(async () => {
  all = await joined('http');
});
afterEach(() => all.end());

const message = (text = 'drained 28 L', ts = '1772442000.000200') =>
  JSON.stringify({
    type: 'event_callback',
    team_id: 'T0DEPOT1',
    event_id: `Ev${ts}`,
    event: { type: 'message', user: ADA, channel: 'C0SHOP01', ts, text },
  });

type Change = {
  readonly headers?: Readonly<Record<string, string>>;
  readonly seconds?: number;
  readonly secret?: string;
  readonly path?: string;
  readonly method?: string;
};

const send = async (body: string, change: Change = {}) => {
  const timestamp = String(Math.floor(Date.parse(all.time.now()) / 1000) + (change.seconds ?? 0));
  const response = await fetch(`${all.channel.address()}${change.path ?? '/slack/events'}`, {
    method: change.method ?? 'POST',
    ...(change.method === 'GET' ? {} : { body }),
    headers: {
      'content-type': 'application/json',
      'x-slack-request-timestamp': timestamp,
      'x-slack-signature': signatureOf(change.secret ?? SIGNING_SECRET, timestamp, body),
      ...change.headers,
    },
  });
  return { status: response.status, text: await response.text() };
};

describe('a request', () => {
  it('that is signed is kept and acknowledged', async () => {
    expect(await send(message())).toEqual({ status: 200, text: '' });
    expect(all.floor.texts()).toEqual(['drained 28 L']);
  });

  it('with a charset behind its content type is taken too', async () => {
    const headers = { 'content-type': 'application/json; charset=utf-8' };
    expect((await send(message(), { headers })).status).toBe(200);
    const form = new URLSearchParams({
      command: '/chargehand',
      text: 'open jobs',
      user_id: ADA,
      channel_id: 'C0SHOP01',
      trigger_id: 'TR1',
    }).toString();
    const type = { 'content-type': 'application/x-www-form-urlencoded; charset=UTF-8' };
    expect((await send(form, { headers: type, path: '/slack/commands' })).status).toBe(200);
    expect(all.floor.texts()).toEqual(['drained 28 L', 'open jobs']);
  });

  it.each<[string, Change, number]>([
    ['signed with another secret', { secret: 'another' }, 401],
    ['not signed', { headers: { 'x-slack-signature': '' } }, 401],
    ['6 minutes old', { seconds: -360 }, 401],
    ['an hour in the future', { seconds: 3600 }, 401],
    ['without a time', { headers: { 'x-slack-request-timestamp': '' } }, 401],
    ['of another content type', { headers: { 'content-type': 'text/xml' } }, 415],
    ['to another path', { path: '/' }, 404],
    ['that only looks', { method: 'GET' }, 405],
  ])('%s is refused and leaves nothing', async (_, change, status) => {
    const answer = await send(message(), change);
    expect(answer.status).toBe(status);
    expect(answer.text).not.toBe('');
    expect(all.floor.kept).toEqual([]);
  });

  it.each([
    ['cut off', '{"type":"event_callb'],
    ['no object', '"hello"'],
    ['empty', ''],
  ])('whose JSON is %s is refused', async (_, body) => {
    expect((await send(body)).status).toBe(400);
  });

  it.each([
    ['an event without content', { type: 'event_callback', event: {} }],
    ['an event of an unknown kind', { type: 'event_callback', event: { type: 'team_join' } }],
    ['a message of a wrong shape', { type: 'event_callback', event: { type: 'message', ts: 5 } }],
    ['something unknown', { type: 'who_knows' }],
    [
      'a tap without a value',
      { type: 'block_actions', user: { id: ADA }, actions: [{ action_id: 'tap.0' }] },
    ],
    [
      'a form that is not ours',
      { type: 'view_submission', user: { id: ADA }, view: { callback_id: 'form' } },
    ],
  ])('with %s is acknowledged and leaves nothing', async (_, body) => {
    expect((await send(JSON.stringify(body))).status).toBe(200);
    expect(all.floor.kept).toEqual([]);
  });

  it('that tries the address is answered with its challenge', async () => {
    const answer = await send(JSON.stringify({ type: 'url_verification', challenge: 'abc' }));
    expect(answer).toEqual({ status: 200, text: '{"challenge":"abc"}' });
  });

  it('of 40,000 characters is kept whole', async () => {
    const long = 'x'.repeat(40_000);
    expect((await send(message(long))).status).toBe(200);
    expect(all.floor.texts()).toEqual([long]);
  });

  it('larger than the limit is refused before it is read to its end', async () => {
    expect((await send(message('x'.repeat(BODY_LIMIT)))).status).toBe(413);
    expect(all.floor.kept).toEqual([]);
  });

  it('that cannot be kept is answered 500 each time until it can, and says so in the log', async () => {
    all.floor.fail(2);
    expect((await send(message())).status).toBe(500);
    expect((await send(message())).status).toBe(500);
    expect((await send(message())).status).toBe(200);
    expect(all.floor.texts()).toEqual(['drained 28 L']);
    expect(all.log.filter(([level]) => level === 'error').length).toBe(2);
  });

  it('that comes twice is kept once, and both are acknowledged', async () => {
    const headers = { 'x-slack-retry-num': '1', 'x-slack-retry-reason': 'http_timeout' };
    const answers = await Promise.all([send(message()), send(message(), { headers })]);
    expect(answers.map((each) => each.status)).toEqual([200, 200]);
    expect(all.floor.kept.length).toBe(1);
  });

  it('whose sender hangs up in the middle disturbs nobody', async () => {
    const { port } = new URL(all.channel.address() ?? '');
    await new Promise<void>((resolve) => {
      const socket = connect(Number(port), '127.0.0.1', () => {
        socket.write('POST /slack/events HTTP/1.1\r\nhost: x\r\ncontent-length: 500\r\n\r\n{"a');
        setTimeout(() => socket.destroy(), 20);
      });
      socket.on('close', () => resolve());
    });
    expect((await send(message())).status).toBe(200);
  });
});

describe('stopping', () => {
  it('waits for what was begun and takes nothing more', async () => {
    const under = send(message());
    await under;
    const address = all.channel.address();
    await all.channel.stop();
    await expect(fetch(`${address}/slack/events`, { method: 'POST' })).rejects.toThrow();
  });
});
