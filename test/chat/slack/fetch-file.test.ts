// Files that people shared: the token goes to Slack's own hosts only, and what is not the file is never kept as one.
import nock from 'nock';
import { afterEach, describe, expect, it } from 'vitest';
import { fetchFile, trustedHost } from '../../../src/chat/slack/fetch-file.ts';
import { uploader } from '../../../src/chat/slack/upload.ts';
import { webClient } from '../../../src/chat/slack/web.ts';

const TOKEN = 'xoxb-fake';
const web = webClient(TOKEN, { timeout: 1_000 }, () => undefined);
const waits: number[] = [];
const options = {
  web,
  token: TOKEN,
  apiUrl: undefined,
  fetch: globalThis.fetch,
  wait: async (seconds: number) => void waits.push(seconds),
};
const get = (from: string, limit = 100) => fetchFile(from, limit, options);
const ADDRESS = 'https://files.slack.com/files-pri/T0DEPOT1-F1/bore.jpg';
const file = () =>
  nock('https://files.slack.com', { reqheaders: { authorization: `Bearer ${TOKEN}` } }).get(
    '/files-pri/T0DEPOT1-F1/bore.jpg',
  );

afterEach(() => {
  waits.length = 0;
  const left = nock.pendingMocks();
  nock.cleanAll();
  expect(left).toEqual([]);
});

describe('the hosts that are trusted', () => {
  it.each([
    ['https://files.slack.com/x', true],
    ['https://slack.com/x', true],
    ['https://depot.slack-files.com/x', true],
    ['http://files.slack.com/x', false],
    ['https://files.slack.com.example.org/x', false],
    ['https://notslack.com/x', false],
    ['https://example.org/slack.com', false],
    ['https://files.slack.com@example.org/x', false],
    ['http://127.0.0.1:9/x', false],
  ])('%s: %s', (address, is) => {
    expect(trustedHost(new URL(address), undefined)).toBe(is);
  });

  it('are joined by the address of the Web API, that one alone', () => {
    const api = 'http://127.0.0.1:8080/api/';
    expect(trustedHost(new URL('http://127.0.0.1:8080/files/F1'), api)).toBe(true);
    expect(trustedHost(new URL('http://127.0.0.1:8081/files/F1'), api)).toBe(false);
  });
});

describe('a file', () => {
  it('comes with the token, byte for byte', async () => {
    file().reply(200, Buffer.from([1, 2, 3]), { 'content-type': 'image/jpeg' });
    expect([...(await get(ADDRESS))]).toEqual([1, 2, 3]);
  });

  it('known by its id is looked up first', async () => {
    nock('https://slack.com')
      .post('/api/files.info')
      .reply(200, { ok: true, file: { id: 'F1', url_private_download: ADDRESS } });
    file().reply(200, 'abc', { 'content-type': 'image/jpeg' });
    expect(Buffer.from(await get('file:F1')).toString()).toBe('abc');
  });

  it('elsewhere is not asked for at all', async () => {
    await expect(get('https://files.slack.com.example.org/bore.jpg')).rejects.toThrow(
      'not kept by Slack',
    );
  });

  it('is tried again after what passes, three times in all', async () => {
    file().reply(503);
    file().reply(429);
    file().reply(200, 'abc', { 'content-type': 'image/jpeg' });
    expect(Buffer.from(await get(ADDRESS)).toString()).toBe('abc');
    expect(waits).toEqual([2, 4]);
    for (let tries = 0; tries < 3; tries += 1) file().reply(500);
    await expect(get(ADDRESS)).rejects.toThrow('Slack answered 500 for the file.');
  });

  it.each([
    ['that is gone', 404, '', {}, 'answered 404'],
    [
      'behind a page to sign in',
      200,
      '<html>',
      { 'content-type': 'text/html; charset=utf-8' },
      'files:read',
    ],
    ['behind a redirection', 302, '', { location: 'https://example.org/bore.jpg' }, 'file'],
    [
      'larger than the limit',
      200,
      'x'.repeat(101),
      { 'content-type': 'image/jpeg' },
      'larger than',
    ],
  ])('%s is not kept', async (what, status, body, headers, says) => {
    // A redirection is refused before it is followed; to the client it looks like a network that fails, so it tries again.
    for (let tries = 0; tries < (what === 'behind a redirection' ? 3 : 1); tries += 1)
      file().reply(status, body, headers as Record<string, string>);
    await expect(get(ADDRESS)).rejects.toThrow(says);
  });
});

describe('an upload', () => {
  it("is sent to no other host than Slack's own", async () => {
    nock('https://slack.com')
      .post('/api/files.getUploadURLExternal')
      .reply(200, { ok: true, upload_url: 'https://example.org/upload', file_id: 'F1' });
    const said: string[] = [];
    const upload = uploader({
      web,
      team: () => 'T0DEPOT1',
      marks: { mark: async () => undefined, setMark: async () => undefined },
      apiUrl: undefined,
      fetch: globalThis.fetch,
      bytesOf: async () => Buffer.from('abc'),
      conversationOf: async (place) => place,
      wait: async () => undefined,
      say: async (place, text) => {
        said.push(text);
        return { ok: true, posted: { message: '1', place } };
      },
    });
    const paper = {
      job: '1042',
      kept: 'a',
      name: 'a.pdf',
      type: 'application/pdf',
      says: 'a',
      bytes: 3,
    };
    expect((await upload({ team: '', place: 'C0SHOP01' }, paper, 'k')).ok).toBe(true);
    expect(said).toEqual([
      'The file a.pdf could not be sent. Slack named an address that is not its own. The file was not sent.',
    ]);
  });
});
