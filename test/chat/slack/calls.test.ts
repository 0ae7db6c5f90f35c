// Single calls other than posting, with nock in Slack's place: what is sent, and what each form of failure comes to.
import nock from 'nock';
import { afterEach, describe, expect, it } from 'vitest';
import { outgoing } from '../../../src/chat/slack/outgoing.ts';
import { webClient } from '../../../src/chat/slack/web.ts';
import type { Card } from '../../../src/desk/card.ts';

const CARD: Card = { text: '3 of 24', blocks: [{ kind: 'text', text: '3 of 24' }] };
const PLACE = { team: 'T0DEPOT1', place: 'C0SHOP01' };
const POSTED = { message: '1772440000.000100', place: PLACE };
const log = () => undefined;
const make = () =>
  outgoing({
    web: webClient('xoxb-fake', { timeout: 300 }, log),
    team: () => 'T0DEPOT1',
    idOf: () => undefined,
    clock: () => '2026-03-02T09:00:00.000Z',
    log,
  });
const call = (method: string, body?: (sent: Record<string, string>) => boolean) =>
  nock('https://slack.com').post(`/api/${method}`, body);
const refused = (error: string) => ({ ok: false, error });

afterEach(() => {
  const left = nock.pendingMocks();
  nock.cleanAll();
  expect(left).toEqual([]);
});

const calls = [
  ['chat.update', () => make().edit(POSTED, CARD)],
  ['reactions.add', () => make().sign(PLACE, POSTED.message, 'recorded')],
  ['reactions.remove', () => make().sign(PLACE, POSTED.message, 'unrecorded')],
  ['pins.add', () => make().pin(POSTED)],
] as const;

describe.each(calls)('%s', (method, run) => {
  it('is done with the place and the message', async () => {
    let sent: Record<string, string> = {};
    call(method, (given) => {
      sent = given;
      return true;
    }).reply(200, { ok: true });
    expect(await run()).toEqual({ ok: true, posted: POSTED });
    expect(sent.channel).toBe(PLACE.place);
    expect(sent.ts ?? sent.timestamp).toBe(POSTED.message);
  });

  it.each([
    ['a 429', 429, {}, { 'retry-after': '9' }, { kind: 'wait', seconds: 9 }],
    ['a 500', 500, 'Server Error', {}, { kind: 'unclear' }],
    ['a page of a proxy', 200, '<html>', {}, { kind: 'unclear' }],
    ['service_unavailable', 200, refused('service_unavailable'), {}, { kind: 'unclear' }],
    ['not_in_channel', 200, refused('not_in_channel'), {}, { kind: 'refused' }],
    ['message_not_found', 200, refused('message_not_found'), {}, { kind: 'refused' }],
    // Nothing is given up for a token that somebody has to set again.
    ['token_revoked', 200, refused('token_revoked'), {}, { kind: 'unclear' }],
  ] as const)('says after %s what to do next', async (_, status, body, headers, failure) => {
    call(method).reply(status, body, headers);
    expect(await run()).toMatchObject({ ok: false, failure });
  });

  it('is unclear after a reset, and is tried once only', async () => {
    call(method).replyWithError({ code: 'ECONNRESET', message: 'socket hang up' });
    expect(await run()).toMatchObject({ ok: false, failure: { kind: 'unclear' } });
  });
});

describe('what is so already', () => {
  it.each([
    ['reactions.add', 'already_reacted', 1],
    ['reactions.remove', 'no_reaction', 2],
    ['pins.add', 'already_pinned', 3],
  ] as const)('%s: %s counts as done', async (method, error, which) => {
    call(method).reply(200, refused(error));
    expect(await calls[which]?.[1]()).toEqual({ ok: true, posted: POSTED });
  });
});

describe('a direct conversation', () => {
  const person = { team: 'T0DEPOT1', place: 'U0ADA001' };
  const ts = '1772442000.000200';

  it('is opened once for a person and then known', async () => {
    const out = make();
    call('conversations.open', ({ users }) => users === 'U0ADA001').reply(200, {
      ok: true,
      channel: { id: 'D0ADA001' },
    });
    call('chat.postMessage', ({ channel }) => channel === 'D0ADA001')
      .twice()
      .reply(200, { ok: true, channel: 'D0ADA001', ts });
    for (const key of ['a', 'b'])
      expect(await out.post(person, CARD, key)).toEqual({
        ok: true,
        posted: { message: ts, place: { team: 'T0DEPOT1', place: 'D0ADA001' } },
      });
  });

  it('that cannot be opened is a failure of the post, and nothing is posted', async () => {
    call('conversations.open').reply(200, refused('user_not_found'));
    expect(await make().post(person, CARD, 'a')).toMatchObject({ failure: { kind: 'refused' } });
    call('conversations.open').reply(429, {}, { 'retry-after': '3' });
    expect(await make().post(person, CARD, 'a')).toMatchObject({
      failure: { kind: 'wait', seconds: 3 },
    });
  });
});
