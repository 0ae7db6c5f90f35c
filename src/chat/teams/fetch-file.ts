// Fetches a picture or file that somebody shared. The bot's token goes only to the service that the message came from.

/** Milliseconds for a whole file. */
const TIME_LIMIT = 60_000;

export type FetchFileOptions = {
  readonly fetch: typeof globalThis.fetch;
  /** The token for the service, or null where there is none. */
  readonly token: () => Promise<string | undefined>;
  /** Origins of the services that conversations are reached at: only these see the token. */
  readonly services: ReadonlySet<string>;
};

/** Where shared files of chats lie; their addresses carry their own short-lived permission. */
const isShare = (url: URL): boolean =>
  url.protocol === 'https:' &&
  /(?:^|\.)(?:sharepoint\.com|1drv\.com|onedrive\.com)$/u.test(url.hostname);

/**
 * @param from an address of the service, or a download address of the organisation's own file store
 * @param limit bytes; a larger file is not read to its end
 * @throws Error with a remedy when it is not fetched
 */
export const fetchFile = async (
  from: string,
  limit: number,
  options: FetchFileOptions,
): Promise<Uint8Array> => {
  const url = URL.canParse(from) ? new URL(from) : undefined;
  const isService = url !== undefined && options.services.has(url.origin);
  if (!url || (!isService && !isShare(url)))
    throw new Error('The file is not kept by Teams. Share the file itself, not a link to it.');
  const token = isService ? await options.token() : undefined;
  const response = await options.fetch(url, {
    ...(token ? { headers: { authorization: `Bearer ${token}` } } : {}),
    redirect: 'error',
    signal: AbortSignal.timeout(TIME_LIMIT),
  });
  if (!response.ok || !response.body)
    throw new Error(`Teams answered ${response.status} for the file. Share it again.`);
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
