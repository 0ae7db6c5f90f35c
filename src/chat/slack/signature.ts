// The v0 signature of Slack's requests. Source: docs.slack.dev, authentication/verifying-requests-from-slack.
import { createHmac, timingSafeEqual } from 'node:crypto';

/** A request older than this, or as far in the future, is refused: it may be a recording. */
export const MOST_SECONDS_APART = 300;

/** HMAC-SHA256 over "v0:timestamp:body" with the signing secret, as hex behind "v0=". */
export const signatureOf = (secret: string, timestamp: string, body: string | Uint8Array): string =>
  `v0=${createHmac('sha256', secret).update(`v0:${timestamp}:`).update(body).digest('hex')}`;

type Signed = {
  readonly timestamp: string | undefined;
  readonly signature: string | undefined;
  readonly body: string | Uint8Array;
};

/**
 * @param now milliseconds since 1970
 * @returns why the request is refused; undefined when it is Slack's
 */
export const refusalOf = (secret: string, request: Signed, now: number): string | undefined => {
  const { timestamp, signature, body } = request;
  if (!timestamp || !signature) return 'The request is not signed.';
  if (!/^\d{1,12}$/u.test(timestamp)) return 'The timestamp of the request is no time.';
  if (Math.abs(now / 1000 - Number(timestamp)) > MOST_SECONDS_APART)
    return 'The timestamp of the request is more than 5 minutes away from the time here.';
  const expected = Buffer.from(signatureOf(secret, timestamp, body));
  const given = Buffer.from(signature);
  // Compared in constant time, so that the answer tells nothing about how much of it was right.
  if (given.length !== expected.length || !timingSafeEqual(given, expected))
    return 'The signature of the request is not that of this app.';
  return undefined;
};
