import { describe, expect, it } from 'vitest';
import { refusalOf, signatureOf } from '../../../src/chat/slack/signature.ts';

// The worked example of docs.slack.dev, authentication/verifying-requests-from-slack.
const SECRET = '8f742231b10e8888abcd99yyyzzz85a5';
const AT = 1531420618;
const BODY =
  'token=xyzz0WbapA4vBCDEFasx0q6G&team_id=T1DC2JH3J&team_domain=testteamnow&channel_id=G8PSS9T3V&channel_name=foobar&user_id=U2CERLKJA&user_name=roadrunner&command=%2Fwebhook-collect&text=&response_url=https%3A%2F%2Fhooks.slack.com%2Fcommands%2FT1DC2JH3J%2F397700885554%2F96rGlfmibIGlgcZRskXaIFfN&trigger_id=398738663015.47445629121.803a0bc887a14d10d2c447fce8b6703c';
const SIGNATURE = 'v0=a2114d57b48eac39b9ad189dd8316235a7b4a8d21a10bd27519666489c69b503';

const refusal = (change: object = {}, seconds = AT): string | undefined =>
  refusalOf(
    SECRET,
    { timestamp: String(AT), signature: SIGNATURE, body: BODY, ...change },
    seconds * 1000,
  );

describe('the signature of a request', () => {
  it('is that of the published example', () => {
    expect(signatureOf(SECRET, String(AT), BODY)).toBe(SIGNATURE);
    expect(refusal()).toBeUndefined();
  });

  it.each([
    ['another body', { body: `${BODY}x` }],
    ['another signature', { signature: SIGNATURE.replace('a2', 'a3') }],
    ['a shorter signature', { signature: SIGNATURE.slice(0, -1) }],
    ['no signature', { signature: undefined }],
    ['no timestamp', { timestamp: undefined }],
    ['another timestamp', { timestamp: String(AT + 1) }],
    ['a timestamp that is no number', { timestamp: '1531420618abc' }],
  ])('refuses %s', (_, change) => {
    expect(refusal(change)).toBeTypeOf('string');
  });

  it.each([
    ['5 minutes old', 300, true],
    ['older than 5 minutes', 301, false],
    ['5 minutes in the future', -300, true],
    ['further in the future', -301, false],
    ['an hour in the future', -3600, false],
  ])('%s', (_, later, good) => {
    expect(refusal({}, AT + later) === undefined).toBe(good);
  });
});
