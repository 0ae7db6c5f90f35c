// The built-in channel: a web page on this machine that needs no account. It is a small chat platform of its own,
// with a durable conversation, and beside it translates like any other channel.
import { createServer, type RequestListener, type Server } from 'node:http';
import { createServer as createTlsServer } from 'node:https';
import type { AddressInfo } from 'node:net';
import type { Delivery } from '../../../shared/delivery.ts';
import type { Channel, Intake } from '../channel.ts';
import type { BenchOptions } from './bench-options.ts';
import type { BenchJob } from './bench-view.ts';
import { answerRequest } from './door/answer-request.ts';
import type { BenchParts } from './door/bench-parts.ts';
import { openContacts } from './door/contact.ts';
import { openLive } from './door/live.ts';
import { readPageFiles } from './door/page-files.ts';
import { type Invitation, openPasses } from './door/passes.ts';
import { openTries } from './door/tries.ts';
import { isLoopback, type OwnNames, ownHosts } from './door/who-may-ask.ts';
import { benchInFolder } from './kept/in-folder.ts';
import { benchOnShelf } from './kept/on-shelf.ts';
import { isRefusal } from './refusal.ts';
import { openHandIn } from './talk/hand-in.ts';
import { openJobThreads } from './talk/job-threads.ts';
import { openPhotos } from './talk/photos.ts';
import { type Arrived, openPosting, type Posting } from './talk/posting.ts';
import { wordlessBefore } from './talk/removal.ts';

export type BenchChannel = Channel & {
  /** Where the page is, once started: "http://127.0.0.1:7700/". */
  readonly address: () => string;
  /** Says or amends something in a person's name, as if it came from the page: for the demonstration. */
  readonly handIn: (delivery: Delivery) => Promise<void>;
  /** Takes the words out of the talk from before a time, but for the threads kept, while it goes on; lines changed. */
  readonly removeTalk: (before: string, kept: ReadonlySet<string>) => Promise<number>;
  /** A code that lets one device in for this person, made on the bench's own machine; undefined without a network. */
  readonly letIn: (person: string) => Promise<Invitation | undefined>;
};

type Running = {
  readonly parts: BenchParts;
  readonly posting: Posting;
  readonly server: Server;
  readonly address: string;
  /** Hands in what was left when the bench last stopped. */
  readonly begin: () => void;
  /** Waits for what was begun, then closes the files. */
  readonly finish: () => Promise<void>;
};

/**
 * The bench channel. Throws at once for a host that is not loopback, and from `start` when the folder or the port
 * cannot be had; each error says what to do.
 */
export function benchChannel(options: BenchOptions): BenchChannel {
  if (options.network === undefined && !isLoopback(options.host)) {
    throw new Error(
      `The bench has no sign-in here, so it listens on this machine only, not on ${options.host}.\nSet its host to 127.0.0.1 or leave it out; for the workshop's network start with --network.`,
    );
  }
  let running: Running | undefined;
  const now = (): Running => {
    if (running === undefined) {
      throw new Error('The bench is not started.\nCall start before posting to it.');
    }
    return running;
  };
  return {
    name: 'bench',
    showsRecorded: 'reaction',
    address: () => now().address,
    handIn: async (delivery) => {
      const result = await now().parts.handIn.take(delivery);
      if (isRefusal(result)) throw new Error(`${result.what}\n${result.doThis}`);
    },
    letIn: async (person) => {
      const { door } = now().parts;
      return door?.passes.invite(
        { kind: 'own', name: person },
        'the machine itself',
        options.clock(),
      );
    },
    start: async (intake) => {
      running = await startBench(options, intake);
      // Only now: the floor may post while it takes these in.
      running.begin();
    },
    stop: async () => {
      await running?.finish();
      running = undefined;
    },
    post: (place, card, key) => now().posting.post(place, card, key),
    edit: (posted, card) => now().posting.edit(posted, card),
    sign: (place, message, mark) => now().posting.sign(place, message, mark),
    pin: (posted) => now().posting.pin(posted),
    find: (place, key) => now().posting.find(place, key),
    removeTalk: async (before, kept) =>
      (await now().parts.conversation.change?.(wordlessBefore(before, kept), kept)) ?? 0,
    fetch: async (from, limit) => {
      const bytes = await now().parts.photos.read(from);
      if (bytes === undefined || bytes.length > limit) {
        throw new Error(
          bytes === undefined
            ? `The photo ${from} is not in the bench's folder.\nAsk for it to be sent again.`
            : `The photo ${from} has ${bytes.length} bytes, more than the ${limit} asked for.\nAsk for a smaller one.`,
        );
      }
      return bytes;
    },
  };
}

async function startBench(options: BenchOptions, intake: Intake): Promise<Running> {
  const { folder, log, clock, shelf } = options;
  const kept = shelf ? await benchOnShelf(shelf, log) : await benchInFolder(folder, log);
  const { conversation, arrivals } = kept;
  const live = openLive(conversation.upTo);
  const lately = new Map<string | null, Arrived>();
  // What is posted in the yard may speak of any thread.
  let last: Arrived | undefined;
  const handIn = openHandIn(conversation, arrivals, intake, log, ({ thread, at }) => {
    last = { at, arrived: clock() };
    lately.set(thread ?? null, last);
  });
  const jobs = keptJobs(options);
  const { network } = options;
  const behindProxy = network !== undefined && network.tls === undefined;
  let own: OwnNames = { scheme: 'http', hosts: new Set(), behindProxy };
  const parts: BenchParts = {
    options,
    intake,
    conversation,
    arrivals,
    photos: openPhotos(kept.photos),
    handIn,
    threads: openJobThreads(conversation, options.threadOf),
    contacts: openContacts(kept.secret),
    live,
    jobs: jobs.read,
    own: () => own,
    answeredOnPage: new Map(),
    ...(network === undefined
      ? {}
      : {
          door: {
            passes: await openPasses(kept.papers, options.ownCodeOf),
            tries: openTries(kept.papers),
          },
        }),
  };
  conversation.onEntry(({ thread, id, n }) => live.tell({ kind: 'entry', thread, id }, n));
  const stopListening = options.view.onChange((job) => {
    jobs.forget();
    live.tell({ kind: 'job', job });
  });

  const files = await readPageFiles();
  const begun = new Set<Promise<void>>();
  const answer: RequestListener = (request, response) => {
    const work = answerRequest(parts, files, request, response);
    begun.add(work);
    work.finally(() => begun.delete(work));
  };
  const server: Server =
    network?.tls === undefined
      ? createServer(answer)
      : createTlsServer({ ...network.tls, minVersion: 'TLSv1.2' }, answer);
  const closeFiles = async () => {
    stopListening();
    await kept.close();
  };
  const port = await listen(server, options).catch(async (error: unknown) => {
    await closeFiles();
    throw error;
  });
  own = {
    scheme: network === undefined ? 'http' : 'https',
    hosts:
      behindProxy && network.names === undefined
        ? undefined
        : ownHosts(options.host, port, network?.names),
    behindProxy,
  };
  let left: Promise<void> | undefined;

  return {
    parts,
    server,
    posting: openPosting(
      conversation,
      clock,
      (thread) => (thread === null ? last : lately.get(thread)),
      (key, card) => {
        for (const [delivery, show] of parts.answeredOnPage) {
          if (!key.endsWith(`|reply:${delivery}`)) continue;
          show(card);
          return true;
        }
        return false;
      },
    ),
    address: addressOf(options, port),
    begin: () => {
      kept.begin(() => {
        left = handIn.takeLeft();
        return left;
      });
    },
    finish: async () => {
      live.close();
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      server.closeIdleConnections();
      await left;
      await Promise.all(begun);
      server.closeAllConnections();
      await closed;
      await closeFiles();
    },
  };
}

/** Where people open it: by the first name of the certificate, by the loopback address, or where the proxy looks for it. */
function addressOf({ host, network }: BenchOptions, port: number): string {
  const name = network?.tls === undefined ? host : (network.names?.[0] ?? host);
  const bare = name.includes(':') ? `[${name.replace(/^\[|\]$/g, '')}]` : name;
  return `${network?.tls === undefined ? 'http' : 'https'}://${bare}:${port}/`;
}

/** How long the open jobs are kept when none changes: what waits grows older by itself. */
const KEPT_MS = 30_000;

/** The open jobs, asked for once and kept until one changes. */
function keptJobs({ view, clock }: BenchOptions): {
  readonly read: () => Promise<readonly BenchJob[]>;
  readonly forget: () => void;
} {
  let kept: Promise<readonly BenchJob[]> | undefined;
  let keptAt = 0;
  return {
    read: () => {
      const nowMs = Date.parse(clock());
      if (kept === undefined || Math.abs(nowMs - keptAt) > KEPT_MS) {
        const asked = view.openJobs();
        kept = asked;
        keptAt = nowMs;
        asked.catch(() => {
          if (kept === asked) kept = undefined;
        });
      }
      return kept;
    },
    forget: () => {
      kept = undefined;
    },
  };
}

const LISTEN_TROUBLE: Readonly<Record<string, readonly [why: string, doThis: string]>> = {
  EADDRINUSE: [
    'another program uses this port.',
    'Stop that program, or start with --port and another number.',
  ],
  EACCES: ['this account may not use this port.', 'Start with --port and a number above 1023.'],
  EADDRNOTAVAIL: [
    'this machine has no such address.',
    'Set the host to 127.0.0.1 or leave it out.',
  ],
};

function listen(server: Server, { host, port }: BenchOptions): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      const [why, doThis] = LISTEN_TROUBLE[error.code ?? ''] ?? [
        `The system answers ${error.code ?? error.message}.`,
        'Start with --port and another number.',
      ];
      reject(
        new Error(`The bench page cannot be served on ${host}, port ${port}: ${why}\n${doThis}`),
      );
    });
    server.listen(port, host.replace(/^\[|\]$/g, ''), () => {
      resolve((server.address() as AddressInfo).port);
    });
  });
}
