// The messaging endpoint: reads a request whole, has it verified and kept by the handler, and only then answers.
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { IHttpServerAdapter } from '@microsoft/teams.apps';
import { BODY_LIMIT } from './limits.ts';
import type { Shelf } from './picture-shelf.ts';

type Handler = Parameters<IHttpServerAdapter['registerRoute']>[2];

export type HttpDoorOptions = {
  readonly port: number;
  readonly host: string;
  readonly shelf: Shelf;
  readonly log: (level: 'info' | 'warn' | 'error', what: string, more?: object) => void;
};

type Answer = {
  readonly status: number;
  readonly body?: unknown;
  readonly bytes?: Uint8Array;
  readonly type?: string;
};

const bodyOf = async (request: IncomingMessage): Promise<Buffer | undefined> => {
  const parts: Buffer[] = [];
  let length = 0;
  for await (const part of request as AsyncIterable<Buffer>) {
    length += part.length;
    if (length > BODY_LIMIT) return undefined;
    parts.push(part);
  }
  return Buffer.concat(parts);
};

/** Has a life cycle: it listens from start to stop. */
export class HttpDoor implements IHttpServerAdapter {
  readonly #options: HttpDoorOptions;
  readonly #routes = new Map<string, Handler>();
  readonly #busy = new Set<Promise<void>>();
  #server: Server | undefined;

  constructor(options: HttpDoorOptions) {
    this.#options = options;
  }

  registerRoute(method: 'POST', path: string, handler: Handler): void {
    this.#routes.set(`${method} ${path}`, handler);
  }

  /** @returns where it listens */
  async listen(): Promise<AddressInfo> {
    const { port, host } = this.#options;
    const server = createServer((request, response) => {
      const work = this.#serve(request, response).finally(() => this.#busy.delete(work));
      this.#busy.add(work);
    });
    server.requestTimeout = 15_000;
    this.#server = server;
    await new Promise<void>((resolve, reject) => {
      server.once('error', reject);
      server.listen(port, host, resolve);
    });
    return server.address() as AddressInfo;
  }

  /** Takes no more requests and waits for those that were begun. */
  async close(): Promise<void> {
    const server = this.#server;
    if (!server) return;
    this.#server = undefined;
    const closed = new Promise<void>((resolve) => server.close(() => resolve()));
    await Promise.allSettled(this.#busy);
    server.closeAllConnections();
    await closed;
  }

  async #serve(request: IncomingMessage, response: ServerResponse): Promise<void> {
    let answer: Answer;
    try {
      answer = await this.#answer(request);
    } catch (error) {
      this.#options.log('error', 'An activity from Teams was not kept; the service is told.', {
        why: (error as Error).message,
      });
      answer = { status: 500, body: { error: 'The activity was not kept. Send it again.' } };
    }
    const bytes =
      answer.bytes ?? (answer.body === undefined ? undefined : JSON.stringify(answer.body));
    response.writeHead(answer.status, {
      'content-type': answer.type ?? 'application/json; charset=utf-8',
      'x-content-type-options': 'nosniff',
      'content-security-policy': "default-src 'none'; sandbox",
      'referrer-policy': 'no-referrer',
      'cache-control': 'private, no-store',
      ...(answer.status === 413 ? { connection: 'close' } : {}),
    });
    response.end(bytes);
  }

  async #answer(request: IncomingMessage): Promise<Answer> {
    const path = (request.url ?? '').split('?')[0] ?? '';
    if (request.method === 'GET' && path.startsWith('/pictures/')) {
      const kept = await this.#options.shelf.take(path.slice('/pictures/'.length));
      return kept
        ? { status: 200, bytes: kept.bytes, type: kept.type }
        : { status: 404, body: { error: 'Nothing is kept under this name.' } };
    }
    const handler = this.#routes.get(`${request.method} ${path}`);
    if (!handler) return { status: 404, body: { error: 'Nothing is served here.' } };
    const body = await bodyOf(request);
    if (!body) return { status: 413, body: { error: 'The request is too large.' } };
    let read: unknown;
    try {
      read = JSON.parse(body.toString('utf8'));
    } catch {
      return { status: 400, body: { error: 'The body of the request is not complete JSON.' } };
    }
    if (typeof read !== 'object' || read === null || Array.isArray(read))
      return { status: 400, body: { error: 'The body of the request is no activity.' } };
    return handler({
      body: read,
      headers: Object.fromEntries(
        Object.entries(request.headers).flatMap(([name, value]) =>
          value === undefined ? [] : [[name, value]],
        ),
      ),
    });
  }
}
