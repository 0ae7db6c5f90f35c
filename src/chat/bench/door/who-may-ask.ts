// Which requests are let in: only those that a page of this bench makes, on this machine's own names.
import type { IncomingMessage } from 'node:http';
import { type Refusal, refusal } from '../refusal.ts';

const LOOPBACK = /^(127(\.\d{1,3}){3}|localhost|\[::1\]|::1)$/;

export function isLoopback(host: string): boolean {
  return LOOPBACK.test(host);
}

/** The Host values the bench answers to. Another name means that a foreign page had its name pointed here. */
export function ownHosts(host: string, port: number): ReadonlySet<string> {
  const names = new Set(['127.0.0.1', 'localhost', '[::1]']);
  names.add(host.includes(':') && !host.startsWith('[') ? `[${host}]` : host);
  return new Set([...names].map((name) => `${name}:${port}`));
}

/** Refuses foreign host names, and anything but reading that comes from another site's page. */
export function checkAsker(
  request: IncomingMessage,
  hosts: ReadonlySet<string>,
): Refusal | undefined {
  const host = request.headers.host?.toLowerCase() ?? '';
  if (!hosts.has(host)) {
    return refusal(
      421,
      'This address is not one of the bench.',
      `Open it by its own address: http://${[...hosts][0] ?? 'localhost'}/`,
    );
  }
  const site = request.headers['sec-fetch-site'];
  const fromElsewhere =
    (site !== undefined && site !== 'same-origin' && site !== 'none') ||
    (request.headers.origin !== undefined &&
      !hosts.has(request.headers.origin.toLowerCase().replace(/^http:\/\//, '')));
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
