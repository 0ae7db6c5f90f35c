// Fetches a file that somebody shared. The bot token goes with the request, so only Slack's own hosts are asked.
import type { WebClient } from '@slack/web-api';

export type FetchFileOptions = {
  readonly web: WebClient;
  readonly token: string;
  /** The address of the Web API, whose host counts as Slack's own. */
  readonly apiUrl: string | undefined;
  readonly fetch: typeof globalThis.fetch;
  readonly wait: (seconds: number) => Promise<void>;
};

/** Tries of one file, and seconds before the second; a platform out of reach for longer has it left where it is. */
const MOST_TRIES = 3;
const FIRST_WAIT = 2;

/** Worth another try: nothing is wrong with the file or the app. */
class PassingTrouble extends Error {}

/** Milliseconds for a whole file. */
const TIME_LIMIT = 60_000;

/** A host of Slack's own over TLS, or the one where the Web API is; nothing else is sent a token or a file. */
export const trustedHost = (url: URL, apiUrl: string | undefined): boolean =>
  (url.protocol === 'https:' && /(?:^|\.)slack(?:-edge|-files)?\.com$/u.test(url.hostname)) ||
  (apiUrl !== undefined && url.origin === new URL(apiUrl).origin);

/**
 * @param from an address, or "file:" and Slack's id of the file
 * @param limit bytes; a larger file is not read to its end
 * @throws Error with a remedy when it is not fetched
 */
export const fetchFile = async (
  from: string,
  limit: number,
  options: FetchFileOptions,
): Promise<Uint8Array> => {
  for (let tries = 1; ; tries += 1) {
    try {
      return await fetchOnce(from, limit, options);
    } catch (error) {
      if (tries >= MOST_TRIES || !(error instanceof PassingTrouble)) throw error;
      await options.wait(FIRST_WAIT * 2 ** (tries - 1));
    }
  }
};

const fetchOnce = async (
  from: string,
  limit: number,
  options: FetchFileOptions,
): Promise<Uint8Array> => {
  let address = from;
  if (from.startsWith('file:')) {
    const info = await options.web.files.info({ file: from.slice('file:'.length) });
    address = info.file?.url_private_download ?? info.file?.url_private ?? '';
  }
  if (!URL.canParse(address) || !trustedHost(new URL(address), options.apiUrl))
    throw new Error('The file is not kept by Slack. Share the file itself, not a link to it.');
  let response: Response;
  try {
    response = await options.fetch(address, {
      headers: { authorization: `Bearer ${options.token}` },
      redirect: 'error',
      signal: AbortSignal.timeout(TIME_LIMIT),
    });
  } catch {
    throw new PassingTrouble('Slack was not reached for the file. Share it again.');
  }
  if (!response.ok || !response.body) {
    const says = `Slack answered ${response.status} for the file. Share it again.`;
    throw response.status >= 500 || response.status === 429
      ? new PassingTrouble(says)
      : new Error(says);
  }
  // Without the scope Slack answers 200 with the page for signing in.
  if (response.headers.get('content-type')?.startsWith('text/html'))
    throw new Error('Slack asks to sign in for the file. Add the scope files:read to the app.');
  const parts: Uint8Array[] = [];
  let length = 0;
  for await (const part of response.body as unknown as AsyncIterable<Uint8Array>) {
    length += part.length;
    if (length > limit)
      throw new Error(`The file is larger than ${limit} bytes. Share a smaller one.`);
    parts.push(part);
  }
  return Buffer.concat(parts);
};
