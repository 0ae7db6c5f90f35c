// Slack's requests over HTTP, as a receiver for Bolt. Bolt's own receiver acknowledges an event before anything is kept,
// takes requests from the future and refuses a content type with a charset; this one verifies, has the delivery kept, and
// only then answers 2xx. Without that Slack sends it again, which is what we want.
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { App, Receiver } from '@slack/bolt';
import { parseJson, payload, textAt } from './json.ts';
import { refusalOf } from './signature.ts';
import type { SlackLog } from './slack-log.ts';

export type RequestReceiverOptions = {
  readonly signingSecret: string;
  readonly port: number;
  readonly host: string;
  /** The time now, ISO 8601. */
  readonly clock: () => string;
  readonly log: SlackLog;
  /** Which of several apps a verified body is for; only one app when left out. */
  readonly appFor?: (body: Readonly<Record<string, unknown>>) => App | undefined;
  /** Answers requests that are not Slack's deliveries; undefined for those it does not know. */
  readonly pages?: (request: IncomingMessage) => Promise<Page | undefined>;
};

/** A page for a person's browser. */
export type Page = {
  readonly status: number;
  readonly text: string;
  readonly headers?: Readonly<Record<string, string>>;
};

/** A message of 40,000 characters with its blocks, escaped, is well below; more is not read to its end. */
export const BODY_LIMIT = 2 * 1024 * 1024;
/** Slack's own paths of the manifest; events, taps and commands may come to any of them. */
const PATHS: ReadonlySet<string> = new Set(['/slack/events', '/slack/actions', '/slack/commands']);

type Answer = {
  readonly status: number;
  readonly body?: unknown;
  readonly headers?: Readonly<Record<string, string>>;
};

/** The body's bytes, or undefined once it is larger than the limit. */
const bytesOf = async (request: IncomingMessage): Promise<Buffer | undefined> => {
  const parts: Buffer[] = [];
  let length = 0;
  for await (const part of request as AsyncIterable<Buffer>) {
    length += part.length;
    if (length > BODY_LIMIT) return undefined;
    parts.push(part);
  }
  return Buffer.concat(parts);
};

const headerOf = (request: IncomingMessage, name: string): string | undefined => {
  const value = request.headers[name];
  return Array.isArray(value) ? undefined : value;
};

/** JSON as it is; a form's `payload` as JSON, or its fields. Undefined for what is neither. */
const parsed = (type: string, text: string): Record<string, unknown> | undefined => {
  if (type === 'application/json')
    return payload(parseJson(text)) as Record<string, unknown> | undefined;
  const fields = new URLSearchParams(text);
  const inner = fields.get('payload');
  if (inner !== null) return payload(parseJson(inner)) as Record<string, unknown> | undefined;
  return fields.size > 0 ? Object.fromEntries(fields) : undefined;
};

/** Has a life cycle: it listens from start to stop. */
export class RequestReceiver implements Receiver {
  #app: App | undefined;
  #server: Server | undefined;
  readonly #options: RequestReceiverOptions;
  readonly #busy = new Set<Promise<void>>();

  constructor(options: RequestReceiverOptions) {
    this.#options = options;
  }

  init(app: App): void {
    this.#app = app;
  }

  /** @returns where it listens */
  async start(): Promise<AddressInfo> {
    const { port, host } = this.#options;
    const server = createServer((request, response) => {
      const work = this.#serve(request, response).finally(() => this.#busy.delete(work));
      this.#busy.add(work);
    });
    server.requestTimeout = 10_000;
    this.#server = server;
    await new Promise<void>((resolve, reject) => {
      server.once('error', reject);
      server.listen(port, host, resolve);
    });
    return server.address() as AddressInfo;
  }

  /** Takes no more requests and waits for those that were begun. */
  async stop(): Promise<void> {
    const server = this.#server;
    if (!server) return;
    this.#server = undefined;
    const closed = new Promise<void>((resolve) => server.close(() => resolve()));
    await Promise.allSettled(this.#busy);
    server.closeAllConnections();
    await closed;
  }

  async #serve(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const { log } = this.#options;
    let answer: Answer;
    try {
      answer = await this.#answer(request);
    } catch (error) {
      log('error', 'A delivery from Slack was not kept; Slack is told and sends it again.', {
        why: (error as Error).message,
      });
      answer = { status: 500, body: 'The delivery was not kept. Send it again.' };
    }
    if (answer.status === 401 || answer.status === 400)
      log('warn', 'A request was refused.', { status: answer.status, why: answer.body });
    const isText = typeof answer.body === 'string' || answer.body === undefined;
    const text = isText ? ((answer.body as string) ?? '') : JSON.stringify(answer.body);
    response.writeHead(answer.status, {
      'content-type': isText ? 'text/plain; charset=utf-8' : 'application/json; charset=utf-8',
      ...(answer.status === 413 ? { connection: 'close' } : {}),
      ...answer.headers,
    });
    response.end(text);
  }

  async #answer(request: IncomingMessage): Promise<Answer> {
    const path = (request.url ?? '').split('?')[0] ?? '';
    const page = await this.#options.pages?.(request);
    if (page)
      return {
        status: page.status,
        body: page.text,
        headers: {
          'cache-control': 'no-store',
          'referrer-policy': 'no-referrer',
          'content-security-policy': "default-src 'none'; frame-ancestors 'none'",
          ...page.headers,
        },
      };
    if (!PATHS.has(path)) return { status: 404, body: 'Nothing is served here.' };
    if (request.method !== 'POST') return { status: 405, body: 'Only POST is served here.' };
    const body = await bytesOf(request);
    if (!body) return { status: 413, body: 'The request is larger than 2 MB.' };
    const refusal = refusalOf(
      this.#options.signingSecret,
      {
        timestamp: headerOf(request, 'x-slack-request-timestamp'),
        signature: headerOf(request, 'x-slack-signature'),
        body,
      },
      Date.parse(this.#options.clock()),
    );
    if (refusal) return { status: 401, body: refusal };
    const type =
      (headerOf(request, 'content-type') ?? '').split(';')[0]?.trim().toLowerCase() ?? '';
    if (type !== 'application/json' && type !== 'application/x-www-form-urlencoded')
      return { status: 415, body: 'Send application/json or application/x-www-form-urlencoded.' };
    const read = parsed(type, body.toString('utf8'));
    if (!read) return { status: 400, body: 'The body of the request is not complete JSON.' };
    if (read.type === 'url_verification')
      return { status: 200, body: { challenge: textAt(read, 'challenge') ?? '' } };
    if (read.ssl_check !== undefined) return { status: 200 };
    return this.#process(request, read);
  }

  async #process(request: IncomingMessage, body: Record<string, unknown>): Promise<Answer> {
    const app = this.#options.appFor ? this.#options.appFor(body) : this.#app;
    if (!app) return { status: 503, body: 'Not ready yet. Send it again.' };
    // For events Bolt calls ack before its listeners run, so ack only notes the answer; it is sent once they are through.
    let said: unknown;
    const retry = Number(headerOf(request, 'x-slack-retry-num') ?? Number.NaN);
    const reason = headerOf(request, 'x-slack-retry-reason');
    await app.processEvent({
      body,
      ack: async (answer?: unknown) => {
        said = answer;
      },
      ...(Number.isInteger(retry) ? { retryNum: retry } : {}),
      ...(reason ? { retryReason: reason } : {}),
    });
    return said === undefined || said === '' ? { status: 200 } : { status: 200, body: said };
  }
}
