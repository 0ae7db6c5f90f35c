// Server-Sent Events: every open page hears of new lines and changed jobs, and after a break of what it missed.
import { randomBytes } from 'node:crypto';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { liveHeaders } from './send.ts';

export type News =
  | { readonly kind: 'entry'; readonly thread: string | null; readonly id: string }
  | { readonly kind: 'job'; readonly job: string };

type Listener = {
  readonly response: ServerResponse;
  /** What is sent of a piece of news; undefined when it is not for this listener. */
  readonly draw: (news: News) => Promise<Drawn | undefined>;
  /** The pass it came in with, over the network. */
  readonly pass: string | undefined;
  /** News is drawn one after the other, so that it arrives in order. */
  queue: Promise<void>;
};

export type Drawn = { readonly event: string; readonly data: unknown };

export type Live = {
  /** The event after which a page is drawn: it asks for what came later. */
  readonly since: () => string;
  readonly attach: (
    request: IncomingMessage,
    response: ServerResponse,
    since: string | undefined,
    draw: Listener['draw'],
    pass?: string,
  ) => void;
  /** Cuts off every page that came in with a pass. */
  readonly drop: (pass: string) => void;
  readonly tell: (news: News) => void;
  readonly listeners: () => number;
  readonly close: () => void;
};

/** News kept for pages that were out of contact; who missed more is told to load everything again. */
const KEPT = 500;
/** A listener that does not take what it is sent is let go at this many waiting bytes; it comes back by itself. */
const WAITING_BYTES = 1_000_000;

export function openLive(): Live {
  // Numbers start again with each start of the bench, so they carry a name of this run.
  const run = randomBytes(4).toString('hex');
  let last = 0;
  const kept: { readonly n: number; readonly news: News }[] = [];
  const listeners = new Set<Listener>();

  const write = (response: ServerResponse, id: string, { event, data }: Drawn) => {
    response.write(`id: ${id}\nevent: ${event}\ndata: ${JSON.stringify(data)}\n\n`);
  };
  const pass = (listener: Listener, n: number, news: News) => {
    listener.queue = listener.queue.then(async () => {
      const drawn = await listener.draw(news).catch(() => undefined);
      const { response } = listener;
      if (drawn === undefined || response.destroyed) return;
      write(response, `${run}.${n}`, drawn);
      if (response.writableLength > WAITING_BYTES) response.destroy();
    });
  };

  return {
    since: () => `${run}.${last}`,
    attach: (request, response, since, draw, byPass) => {
      response.writeHead(200, liveHeaders);
      response.write('retry: 2000\n\n');
      const listener: Listener = { response, draw, pass: byPass, queue: Promise.resolve() };
      listeners.add(listener);
      request.on('close', () => listeners.delete(listener));
      response.on('error', () => listeners.delete(listener));
      const [ofRun, number] = since?.split('.') ?? [];
      const from = Number(number);
      const first = kept[0]?.n ?? last + 1;
      if (since === undefined) return;
      if (ofRun !== run || !Number.isInteger(from) || from + 1 < first) {
        write(response, `${run}.${last}`, { event: 'again', data: {} });
        return;
      }
      for (const { n, news } of kept) if (n > from) pass(listener, n, news);
    },
    tell: (news) => {
      last += 1;
      kept.push({ n: last, news });
      if (kept.length > KEPT) kept.shift();
      for (const listener of listeners) pass(listener, last, news);
    },
    drop: (ended) => {
      for (const listener of listeners) {
        if (listener.pass === ended) listener.response.destroy();
      }
    },
    listeners: () => listeners.size,
    close: () => {
      for (const { response } of listeners) response.end();
      listeners.clear();
    },
  };
}
