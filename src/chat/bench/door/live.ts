// Server-Sent Events: every open page hears of new lines and changed jobs, and after a break of what it missed.
import { randomBytes } from 'node:crypto';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { liveHeaders } from './send.ts';

export type News =
  | { readonly kind: 'entry'; readonly thread: string | null; readonly id: string }
  | { readonly kind: 'job'; readonly job: string };

type Kept = {
  readonly n: number;
  readonly news: News;
  /** Its place in the order that several processes share. */
  readonly place: number;
  readonly at: number;
};

/** Where the news of other processes has a place in one order, the place up to which this one has it. */
type UpTo = () => number | undefined;

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
  /** @param n its place in the order that several processes share */
  readonly tell: (news: News, n?: number) => void;
  readonly listeners: () => number;
  readonly close: () => void;
};

/** News kept for pages that were out of contact; who missed more is told to load everything again. */
const KEPT = 500;
/** Longer than it takes to draw a page, and to hear of what another process did. */
const MOMENT_MS = 30_000;
/** A listener that does not take what it is sent is let go at this many waiting bytes; it comes back by itself. */
const WAITING_BYTES = 1_000_000;

export function openLive(upTo: UpTo = () => undefined): Live {
  // Numbers start again with each start of the bench, so they carry a name of this run.
  const run = randomBytes(4).toString('hex');
  let last = 0;
  const kept: Kept[] = [];
  /** Places of the shared order from which on everything is kept here. */
  let keptFrom = upTo();
  const listeners = new Set<Listener>();

  const write = (response: ServerResponse, id: string, { event, data }: Drawn) => {
    response.write(`id: ${id}\nevent: ${event}\ndata: ${JSON.stringify(data)}\n\n`);
  };
  /** The page goes by it when it comes back: its number here, and the place by which another process knows it. */
  const idAt = (n: number, place: number | undefined = upTo()): string =>
    place === undefined ? `${run}.${n}` : `${run}.${n}.${place}`;
  const pass = (listener: Listener, n: number, news: News, place?: number) => {
    listener.queue = listener.queue.then(async () => {
      const drawn = await listener.draw(news).catch(() => undefined);
      const { response } = listener;
      if (drawn === undefined || response.destroyed) return;
      write(response, idAt(n, place), drawn);
      if (response.writableLength > WAITING_BYTES) response.destroy();
    });
  };

  /** Jobs that changed since about a place: each process hears of a change a moment sooner or later. */
  const jobsSince = (place: number): ReadonlySet<string> => {
    const lately = performance.now() - MOMENT_MS;
    return new Set(
      kept.flatMap(({ news, ...each }) =>
        news.kind === 'job' && (each.place > place || each.at > lately) ? [news.job] : [],
      ),
    );
  };

  return {
    since: () => idAt(last),
    attach: (request, response, since, draw, byPass) => {
      response.writeHead(200, liveHeaders);
      response.write('retry: 2000\n\n');
      const listener: Listener = { response, draw, pass: byPass, queue: Promise.resolve() };
      listeners.add(listener);
      request.on('close', () => listeners.delete(listener));
      response.on('error', () => listeners.delete(listener));
      const [ofRun, number, placed] = since?.split('.') ?? [];
      const from = Number(number);
      const first = kept[0]?.n ?? last + 1;
      if (since === undefined) return;
      const place = Number(placed ?? Number.NaN);
      if (ofRun !== run && keptFrom !== undefined && place >= keptFrom) {
        // It comes from another process: the lines it has not seen, and a look at all that hangs on the jobs.
        for (const each of kept)
          if (each.news.kind === 'entry' && each.place > place)
            pass(listener, each.n, each.news, each.place);
        for (const job of jobsSince(place)) pass(listener, last, { kind: 'job', job });
        write(response, idAt(last), { event: 'job', data: { job: '' } });
        return;
      }
      if (ofRun !== run || !Number.isInteger(from) || from + 1 < first) {
        write(response, idAt(last), { event: 'again', data: {} });
        return;
      }
      for (const { n, news } of kept) if (n > from) pass(listener, n, news);
    },
    tell: (news, n) => {
      last += 1;
      const place = n ?? upTo() ?? 0;
      kept.push({ n: last, news, place, at: performance.now() });
      if (kept.length > KEPT) {
        const gone = kept.shift();
        if (keptFrom !== undefined && gone !== undefined) keptFrom = Math.max(keptFrom, gone.place);
      }
      for (const listener of listeners) pass(listener, last, news, n);
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
