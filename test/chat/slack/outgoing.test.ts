// Single calls of the Web API and every form in which they fail, with nock in Slack's place.
import nock from 'nock';
import { afterEach, describe, expect, it } from 'vitest';
import { outgoing } from '../../../src/chat/slack/outgoing.ts';
import { sentenceFor } from '../../../src/chat/slack/post-failure.ts';
import { webClient } from '../../../src/chat/slack/web.ts';
import type { Card } from '../../../src/desk/card.ts';

const CARD: Card = {
  text: 'Where are we: 3 of 24 <ok>',
  blocks: [{ kind: 'text', text: '3 of 24' }],
};
const PLACE = { team: 'T0DEPOT1', place: 'C0SHOP01', thread: '1772440000.000100' };
const log = () => undefined;
const out = outgoing({
  web: webClient('xoxb-fake', { timeout: 300 }, log),
  team: () => 'T0DEPOT1',
  idOf: () => undefined,
  clock: () => '2026-03-02T09:00:00.000Z',
  log,
});
const slack = () => nock('https://slack.com').post('/api/chat.postMessage');

afterEach(() => {
  const left = nock.pendingMocks();
  nock.cleanAll();
  expect(left).toEqual([]);
});

describe('posting', () => {
  it('sends text, blocks, thread and key, and lets Slack make nothing of the text', async () => {
    let sent: Record<string, string> = {};
    nock('https://slack.com', { reqheaders: { authorization: 'Bearer xoxb-fake' } })
      .post('/api/chat.postMessage', (body) => {
        sent = body;
        return true;
      })
      .reply(200, { ok: true, channel: 'C0SHOP01', ts: '1772442000.000200' });
    expect(await out.post(PLACE, CARD, '1042|reply')).toEqual({
      ok: true,
      posted: { message: '1772442000.000200', place: PLACE },
    });
    expect(sent).toMatchObject({
      channel: 'C0SHOP01',
      thread_ts: '1772440000.000100',
      text: 'Where are we: 3 of 24 &lt;ok&gt;',
      parse: 'none',
      link_names: 'false',
      unfurl_links: 'false',
      unfurl_media: 'false',
      metadata: '{"event_type":"chargehand_post","event_payload":{"key":"1042|reply"}}',
    });
    expect(JSON.parse(sent.blocks ?? '')).toMatchObject([{ type: 'section' }]);
  });

  it('waits as long as Slack says', async () => {
    slack().reply(429, { ok: false, error: 'ratelimited' }, { 'retry-after': '12' });
    expect(await out.post(PLACE, CARD, 'k')).toEqual({
      ok: false,
      failure: { kind: 'wait', seconds: 12 },
    });
  });

  it.each([
    ['a 429 without a number', { 'retry-after': 'soon' }],
    ['a 429 without the header', {}],
  ])('waits half a minute after %s', async (_, headers) => {
    slack().reply(429, { ok: false }, headers);
    expect(await out.post(PLACE, CARD, 'k')).toEqual({
      ok: false,
      failure: { kind: 'wait', seconds: 30 },
    });
  });

  it('does not stop other calls because of a 429', async () => {
    slack().reply(429, {}, { 'retry-after': '600' });
    await out.post(PLACE, CARD, 'k');
    slack().reply(200, { ok: true, channel: 'C0SHOP01', ts: '1772442000.000200' });
    expect((await out.post(PLACE, CARD, 'k')).ok).toBe(true);
  });

  it.each([
    ['a reset', () => slack().replyWithError({ code: 'ECONNRESET', message: 'socket hang up' })],
    ['no answer in time', () => slack().delay(600).reply(200, { ok: true })],
    ['a 500', () => slack().reply(500, 'Server Error')],
    ['a 503', () => slack().reply(503, '')],
    ['a page of a proxy', () => slack().reply(200, '<html>Gateway</html>')],
    ['internal_error', () => slack().reply(200, { ok: false, error: 'internal_error' })],
    ['no ts', () => slack().reply(200, { ok: true })],
  ])('is unclear after %s, and is tried once only', async (_, answer) => {
    answer();
    expect(await out.post(PLACE, CARD, 'k')).toMatchObject({
      ok: false,
      failure: { kind: 'unclear' },
    });
  });

  it.each([
    ['not_in_channel', {}, 'The bot is not in the channel. Invite it there.'],
    [
      'missing_scope',
      { needed: 'chat:write' },
      'The app has no scope chat:write. Add it from the manifest and install the app again.',
    ],
    ['brand_new_error', {}, 'Slack answered "brand_new_error".'],
  ])('is refused after %s, in a sentence', async (error, more, why) => {
    slack().reply(200, { ok: false, error, ...more });
    expect(await out.post(PLACE, CARD, 'k')).toEqual({
      ok: false,
      failure: { kind: 'refused', why },
    });
  });

  it.each(['invalid_auth', 'token_revoked', 'account_inactive'])(
    'waits for the setting to be mended after %s, and says which',
    async (error) => {
      slack().reply(200, { ok: false, error });
      expect(await out.post(PLACE, CARD, 'k')).toEqual({
        ok: false,
        failure: { kind: 'unclear', why: sentenceFor(error) },
      });
    },
  );

  it('is refused after a 403 of a proxy', async () => {
    slack().reply(403, 'no');
    expect(await out.post(PLACE, CARD, 'k')).toMatchObject({ failure: { kind: 'refused' } });
  });
});

describe('the sentences', () => {
  it.each(['invalid_auth', 'channel_not_found', 'is_archived', 'token_revoked'])(
    '%s says what to do, without the name of the error',
    (name) => {
      expect(sentenceFor(name)).toMatch(/\. [A-Z].+\.$/u);
      expect(sentenceFor(name)).not.toContain(name);
    },
  );
});

describe('finding a post', () => {
  const page = (messages: object[], cursor = '') => ({
    ok: true,
    messages,
    response_metadata: { next_cursor: cursor },
  });
  const replies = () => nock('https://slack.com').post('/api/conversations.replies');

  it('goes by the key in the metadata, over several pages', async () => {
    replies().reply(200, page([{ ts: '1', metadata: { event_payload: { key: 'other' } } }], 'c'));
    replies().reply(200, page([{ ts: '2', metadata: { event_payload: { key: 'k' } } }]));
    expect(await out.find(PLACE, 'k')).toEqual({ message: '2', place: PLACE });
  });

  it('throws where nothing could be read, so that nobody posts again on a guess', async () => {
    replies().reply(500, '');
    await expect(out.find(PLACE, 'k')).rejects.toThrow();
  });
});
