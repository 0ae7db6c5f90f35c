// What a failed call means for the outbox: wait, look before posting again, or give up with a sentence.
import type { PostFailure } from '../channel.ts';

/** Seconds to wait where the service says to wait but not how long, and where it is not to be reached at all. */
const USUAL_WAIT = 30;

const SENTENCES: Readonly<Record<number, string>> = {
  400: 'Teams does not take the message.',
  403: 'The bot may not post there. Add the app to the team or chat again.',
  404: 'Teams knows no such conversation. Add the app to the team or chat again.',
  413: 'The message is too large for Teams.',
};

/** Nothing was sent: the name was not found, or nobody listened. */
const NOT_SENT: ReadonlySet<string> = new Set(['ECONNREFUSED', 'ENOTFOUND', 'EAI_AGAIN']);

type Answered = {
  readonly isAxiosError?: boolean;
  readonly code?: string;
  readonly message?: string;
  readonly response?: {
    readonly status: number;
    readonly headers?: Readonly<Record<string, unknown>>;
  };
};

/** Seconds of a Retry-After header: a number, or a date. */
export const retryAfter = (value: unknown, now: number): number => {
  if (typeof value !== 'string' || value === '') return USUAL_WAIT;
  const seconds = Number(value);
  if (Number.isFinite(seconds)) return Math.min(3_600, Math.max(1, Math.ceil(seconds)));
  const when = Date.parse(value);
  return Number.isNaN(when) ? USUAL_WAIT : Math.min(3_600, Math.max(1, (when - now) / 1_000));
};

/** A secret or token never stands in a message that is logged. */
const withoutTokens = (text: string): string =>
  text.replace(/\b(?:Bearer\s+)?[\w-]{20,}\.[\w-]{10,}\.[\w-]{10,}/gu, '(token)').slice(0, 200);

/** @param now milliseconds since 1970 */
export const failureOf = (error: unknown, now: number): PostFailure => {
  const { isAxiosError, code, message, response } = (error ?? {}) as Answered;
  const why = withoutTokens(message ?? String(error));
  if (response) {
    const { status } = response;
    if (status === 429)
      return { kind: 'wait', seconds: retryAfter(response.headers?.['retry-after'], now) };
    // The token is not taken: a setting or a clock, mended by somebody; nothing is dropped meanwhile.
    if (status === 401) return { kind: 'wait', seconds: 60 };
    if (status >= 500 || status === 408 || status === 412) return { kind: 'unclear', why };
    return {
      kind: 'refused',
      why: SENTENCES[status] ?? `Teams answered with status ${status}.`,
    };
  }
  // Without an answer: where a connection was there the post may have arrived; else, and without a token, it did not.
  if (!isAxiosError || NOT_SENT.has(code ?? '')) return { kind: 'wait', seconds: USUAL_WAIT };
  return { kind: 'unclear', why };
};
