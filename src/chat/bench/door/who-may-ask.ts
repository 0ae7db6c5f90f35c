// Which requests are let in: only those that a page of this bench makes, on this bench's own names.
import type { IncomingMessage } from 'node:http';
import { type Refusal, refusal } from '../refusal.ts';

const LOOPBACK = /^(127(\.\d{1,3}){3}|localhost|\[::1\]|::1)$/;

export function isLoopback(host: string): boolean {
  return LOOPBACK.test(host);
}

/** The names a bench answers to. */
export type OwnNames = {
  readonly scheme: 'http' | 'https';
  /** The Host values with their port; undefined where the proxy before the bench has its own say. */
  readonly hosts: ReadonlySet<string> | undefined;
  /** What a proxy says of the request counts only where one is known to stand before the bench. */
  readonly behindProxy: boolean;
};

/** The Host values the bench answers to. Another name means that a foreign page had its name pointed here. */
export function ownHosts(
  host: string,
  port: number,
  names: readonly string[] = [],
): ReadonlySet<string> {
  const all = new Set([
    '127.0.0.1',
    'localhost',
    '[::1]',
    ...names.map((name) => name.toLowerCase()),
  ]);
  all.add(host);
  return new Set(
    [...all].flatMap((name) => {
      const bare = name.includes(':') && !name.startsWith('[') ? `[${name}]` : name;
      return port === 443 ? [bare, `${bare}:443`] : [`${bare}:${port}`];
    }),
  );
}

const last = (header: string | readonly string[] | undefined): string | undefined => {
  const text = typeof header === 'string' ? header : header?.join(',');
  return text?.split(',').at(-1)?.trim().toLowerCase();
};

/** The name people opened the bench by. */
export const hostOf = (request: IncomingMessage, own: OwnNames): string =>
  (own.behindProxy ? last(request.headers['x-forwarded-host']) : undefined) ??
  request.headers.host?.toLowerCase() ??
  '';

/** Where a request comes from: the other end of the connection, or what the proxy before the bench added last. */
export const addressOf = (request: IncomingMessage, own: OwnNames): string =>
  (own.behindProxy ? last(request.headers['x-forwarded-for']) : undefined) ??
  request.socket.remoteAddress ??
  'unknown';

/** Refuses foreign host names, and anything but reading that comes from another site's page. */
export function checkAsker(request: IncomingMessage, own: OwnNames): Refusal | undefined {
  const host = hostOf(request, own);
  if (host === '' || own.hosts?.has(host) === false) {
    return refusal(
      421,
      'This address is not one of the bench.',
      `Open it by its own address: ${own.scheme}://${[...(own.hosts ?? [])][0] ?? 'localhost'}/`,
    );
  }
  if (own.behindProxy && last(request.headers['x-forwarded-proto']) !== 'https') {
    return refusal(
      426,
      'This came without TLS.',
      'Open the bench by https. If you did, the proxy has to say so: let it set X-Forwarded-Proto.',
    );
  }
  const site = request.headers['sec-fetch-site'];
  const fromElsewhere =
    (site !== undefined && site !== 'same-origin' && site !== 'none') ||
    (request.headers.origin !== undefined && !isOwnOrigin(request.headers.origin, host, own));
  const isReading = request.method === 'GET' || request.method === 'HEAD';
  const isPageOpening = isReading && request.headers['sec-fetch-mode'] === 'navigate';
  if (fromElsewhere && !isPageOpening) {
    return refusal(
      403,
      "This came from another site's page.",
      'Open the bench itself and do it there.',
    );
  }
  return undefined;
}

function isOwnOrigin(origin: string, host: string, { scheme, hosts }: OwnNames): boolean {
  const [itsScheme, itsHost = ''] = origin.toLowerCase().split('://');
  return itsScheme === scheme && (hosts?.has(itsHost) ?? itsHost === host);
}
