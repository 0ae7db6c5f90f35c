// The contract every store keeps. What resolves is on disk: written, synced, renamed, folder synced.
// What cannot be kept, or a job whose file is damaged or gone, rejects with StoreTrouble (what, where, what to do); then
// nothing of it shows, the delivery stays waiting, and the other jobs go on.

import type { Delivery } from '../../shared/delivery.ts';
import type { JobEvent, StoredEvent } from '../../shared/event.ts';
import type { Post } from '../desk/card.ts';
import type { SharedShelf } from './shared-shelf.ts';

export type Waiting = { readonly delivery: Delivery; readonly acceptedAt: string };

export type OutboxEntry = {
  /** job + key + channel, unique. */
  readonly id: string;
  readonly job: string;
  readonly channel: Delivery['channel'];
  readonly post: Post;
  readonly madeAt: string;
  readonly tries: number;
  readonly state: 'waiting' | 'unclear';
};

/** Where a thread or a posted card of a job is, on one platform. */
export type ThreadRef = {
  readonly channel: Delivery['channel'];
  readonly team: string;
  readonly place: string;
  readonly thread: string;
};
export type PostRef = {
  readonly key: string;
  readonly channel: Delivery['channel'];
  readonly team: string;
  readonly place: string;
  readonly message: string;
};

export type StoredJob = {
  readonly job: string;
  readonly version: number;
  readonly events: readonly StoredEvent[];
  readonly threads: readonly ThreadRef[];
  readonly posts: readonly PostRef[];
  readonly outbox: readonly OutboxEntry[];
};

/** What one line of the index keeps, so that listing jobs opens no job file. */
export type IndexEntry = {
  readonly job: string;
  readonly vehicle: string;
  readonly vin?: string;
  readonly plan: string;
  readonly status: 'open' | 'closed' | 'cancelled';
  readonly technician?: string;
  readonly openedAt: string;
  readonly closedAt?: string;
  readonly threads: readonly ThreadRef[];
};

export type Append = {
  readonly job: string;
  /** The version the events were decided on; 0 for a new job. */
  readonly expected: number;
  readonly events: readonly JobEvent[];
  readonly outbox?: readonly OutboxEntry[];
  readonly threads?: readonly ThreadRef[];
  readonly index: IndexEntry;
  /** The delivery this settles: its inbox entry is done once this append is. */
  readonly settles?: string;
};

export type AppendResult =
  | { readonly ok: true; readonly version: number }
  | { readonly ok: false; readonly found: number };

/** A file that could not be read, set aside and named; the other jobs go on. */
export type SetAside = { readonly file: string; readonly movedTo: string; readonly why: string };

/** Where deliveries are worked off one after the other: a thread, or what is said in a place beside all threads. */
export const laneOf = ({
  channel,
  place,
  thread,
}: Pick<Delivery, 'channel' | 'place' | 'thread'>): string =>
  `in:${channel}:${place}:${thread ?? ''}`;

/** What a store offers that several processes share: nothing of it is there where one process has the place to itself. */
export type SharedStore = {
  /** What is kept in common beside the jobs. */
  readonly shelf: SharedShelf;
  /** Deliveries of one lane that wait, in order of acceptance. */
  readonly waitingIn: (lane: string) => Promise<readonly Waiting[]>;
  /** Lanes in which something waits, the one that waits longest first. */
  readonly lanes: () => Promise<readonly string[]>;
  /**
   * Takes a lease, or keeps it for longer; false while another process holds it. Whoever dies loses it after `seconds`.
   */
  readonly lease: (name: string, seconds: number) => Promise<boolean>;
  readonly release: (name: string) => Promise<void>;
  /** The version of a job now, whoever wrote it. */
  readonly versionOf: (job: string) => Promise<number | undefined>;
  /**
   * Jobs that were written since, by any process; some are named again. Begin without a time, go on with `upTo`.
   */
  readonly changedSince: (since: string | undefined) => Promise<{
    readonly upTo: string | undefined;
    readonly changes: readonly { readonly entry: IndexEntry; readonly rev: number }[];
  }>;
};

export type JobStore = {
  readonly shared?: SharedStore;
  /** Opens the folder, takes its lock (throws, naming the holder, if another process has it) and repairs torn tails. */
  readonly open: () => Promise<{ readonly setAside: readonly SetAside[] }>;
  readonly close: () => Promise<void>;

  /** Keeps a delivery; 'seen' when its id or one of its keys was kept before, across restarts. */
  readonly accept: (delivery: Delivery, acceptedAt: string) => Promise<'new' | 'seen'>;
  /** Deliveries accepted and not settled, in order of acceptance. */
  readonly waiting: () => Promise<readonly Waiting[]>;
  /** Marks a delivery done that led to no event. */
  readonly settle: (delivery: string) => Promise<void>;

  readonly load: (job: string) => Promise<StoredJob | undefined>;
  /** All or nothing: events, outbox entries, threads and the settling of the delivery become visible together. */
  readonly append: (append: Append) => Promise<AppendResult>;
  readonly list: () => Promise<readonly IndexEntry[]>;
  readonly jobOfThread: (
    channel: Delivery['channel'],
    team: string,
    place: string,
    thread: string,
  ) => Promise<string | undefined>;

  /** Entries still to be posted, over all jobs: urgent first, then in order. */
  readonly outbox: () => Promise<readonly OutboxEntry[]>;
  /** With `posted`, the entry as it was handed out: where a newer card has taken its place since, that one stays. */
  readonly settlePost: (
    job: string,
    id: string,
    ref: PostRef | undefined,
    posted?: OutboxEntry,
  ) => Promise<void>;
  readonly keepPost: (
    job: string,
    id: string,
    change: { readonly tries: number; readonly state: 'waiting' | 'unclear' },
  ) => Promise<void>;

  /** Small marks that must survive a restart: the last shift note, the last message seen of a channel. */
  readonly mark: (name: string) => Promise<string | undefined>;
  readonly setMark: (name: string, value: string) => Promise<void>;

  /** Keeps a photo or file by the job under its hash; resolves to the name it can be read back by. */
  readonly keepFile: (
    job: string,
    sha256: string,
    type: string,
    bytes: Uint8Array,
  ) => Promise<string>;
  readonly readFile: (job: string, name: string) => Promise<Uint8Array | undefined>;
};
