// How the bench answers: with the headers that keep a page from loading or running anything that is not its own.
import type { ServerResponse } from 'node:http';
import type { Refusal } from '../refusal.ts';

const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' blob:",
  "connect-src 'self'",
  "worker-src 'self'",
  "form-action 'self'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
].join('; ');

const HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy': POLICY,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(self), geolocation=(), microphone=()',
  'x-frame-options': 'DENY',
};

export type Answer = {
  readonly status?: number;
  readonly type: string;
  readonly body: string | Uint8Array;
  readonly headers?: Readonly<Record<string, string>>;
};

export function send(response: ServerResponse, answer: Answer): void {
  if (response.headersSent || response.destroyed) return;
  const body = typeof answer.body === 'string' ? Buffer.from(answer.body, 'utf8') : answer.body;
  response.writeHead(answer.status ?? 200, {
    ...HEADERS,
    'cache-control': 'no-store',
    'content-type': answer.type,
    'content-length': String(body.length),
    ...answer.headers,
  });
  response.end(response.req.method === 'HEAD' ? undefined : body);
}

export function sendJson(response: ServerResponse, value: unknown, status = 200): void {
  send(response, {
    status,
    type: 'application/json; charset=utf-8',
    body: JSON.stringify(value),
  });
}

export function sendRefusal(
  response: ServerResponse,
  { status, what, doThis, needs }: Refusal,
): void {
  // What was not read of the request would be taken for the next one on this connection.
  const headers = response.req.complete ? undefined : { connection: 'close' };
  send(response, {
    status,
    type: 'application/json; charset=utf-8',
    body: JSON.stringify({ what, doThis, ...(needs === undefined ? {} : { needs }) }),
    ...(headers === undefined ? {} : { headers }),
  });
}

export const liveHeaders = {
  ...HEADERS,
  'cache-control': 'no-store',
  'content-type': 'text/event-stream; charset=utf-8',
  connection: 'keep-alive',
} as const;
