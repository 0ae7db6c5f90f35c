// What the bot still has to post: kept on disk by the store, posted in order for each job, stops first, nothing twice.
// Each channel is served by itself, so that one that is slow or away keeps no other waiting.
import type { Delivery } from '../../shared/delivery.ts';
import type { Channel, Place, PostFailure, PostResult } from '../chat/channel.ts';
import type { Schedule } from '../schedule/timers.ts';
import type { JobStore, OutboxEntry, PostRef, ThreadRef } from '../store/job-store.ts';
import { outboxLine } from './outbox-line.ts';
import { outboxPace } from './outbox-pace.ts';
import { outboxSend } from './outbox-send.ts';
import { type Trail, traceOfPost } from './trail.ts';

export type Home = { readonly team: string; readonly place: string };

export type OutboxNeeds = {
  readonly store: JobStore;
  readonly channels: ReadonlyMap<Delivery['channel'], Channel>;
  readonly schedule: Schedule;
  readonly clock: () => string;
  readonly trail: Trail;
  /** Where a job lives on a channel before it has a thread there. */
  readonly homeOf: (job: string, channel: Delivery['channel']) => Promise<Home | undefined>;
  readonly refsOf: (
    job: string,
  ) => Promise<{ readonly threads: readonly ThreadRef[]; readonly posts: readonly PostRef[] }>;
  /** A job's sheet was posted on a channel: its thread is known from now on. */
  readonly threadOpened: (job: string, thread: ThreadRef) => Promise<void>;
  readonly placeOfDelivery: (delivery: string) => Promise<Place | undefined>;
  readonly personOn: (name: string, channel: Delivery['channel']) => string | undefined;
};

/** What waits to be posted on one channel. */
export type Backlog = {
  readonly channel: Delivery['channel'];
  readonly posts: number;
  /** When the oldest of them was made, ISO. */
  readonly since: string;
};

export type Outbox = {
  readonly add: (entries: readonly OutboxEntry[]) => void;
  /** Entries not posted yet. */
  readonly backlog: () => number;
  readonly backlogs: () => readonly Backlog[];
  readonly kick: () => void;
  /** Resolves when everything is posted that can be posted now; what a platform does not take stays. */
  readonly drained: () => Promise<void>;
  readonly stop: () => Promise<void>;
};

/** Tries before an entry that the platform refuses is given up, with a line in the log. */
const MOST_TRIES = 4;
/** A stop is tried for about an hour: the bot may have been taken out of the channel by mistake. */
const MOST_TRIES_URGENT = 18;

/** Entries remembered after they were posted. */
const MOST_KNOWN = 20_000;

type Outcome = 'posted' | 'later' | 'given-up';

export const outbox = (needs: OutboxNeeds, seed: readonly OutboxEntry[]): Outbox => {
  const { clock, trail } = needs;
  const waiting = outboxLine();
  /** Entries that were handed in, posted ones too: an entry that is handed in again was read before it was settled. */
  const known = new Set<string>();
  const nameOf = (entry: OutboxEntry): string => `${entry.job}|${entry.id}`;
  const know = (entry: OutboxEntry): void => {
    known.add(nameOf(entry));
    for (const oldest of known) {
      if (known.size <= MOST_KNOWN) break;
      known.delete(oldest);
    }
  };
  for (const entry of seed) {
    know(entry);
    waiting.add(entry);
  }
  const running = new Map<Delivery['channel'], Promise<void>>();
  let stopped = false;
  const pace = outboxPace(clock);
  const { send } = outboxSend(needs);

  const sheetWaits = (entry: OutboxEntry): boolean =>
    waiting.lane(entry).some((other) => other.post.key === 'sheet');

  /** The newest card of the same key says it all; earlier ones would only flicker. */
  const newestOf = (entry: OutboxEntry): OutboxEntry =>
    (entry.post.edit
      ? waiting.lane(entry).findLast((other) => other.post.key === entry.post.key)
      : undefined) ?? entry;

  const settle = async (
    entry: OutboxEntry,
    ref: PostRef | undefined,
    newest = entry,
  ): Promise<void> => {
    await needs.store.settlePost(entry.job, entry.id, ref);
    if (newest !== entry) waiting.giveWay(entry, newest);
    else waiting.remove(entry);
    pace.forget(entry);
  };

  /** Goes without being posted; the newest card of its key stands where it would have stood, before what was said later. */
  const giveWay = async (entry: OutboxEntry, newest: OutboxEntry): Promise<void> => {
    await settle(entry, undefined, newest);
  };

  const deliver = async (entry: OutboxEntry): Promise<Outcome> => {
    const channel = needs.channels.get(entry.channel);
    const newest = newestOf(entry);
    const isOver = newest !== entry;
    // One whose answer was lost may stand there all the same.
    if (!channel || (isOver && entry.state !== 'unclear')) {
      await giveWay(entry, newest);
      return 'given-up';
    }
    const result = await send(entry, channel, sheetWaits(entry), isOver);
    if (result === 'later') return 'later';
    if (result === undefined) {
      await giveWay(entry, newest);
      return 'given-up';
    }
    if ('seconds' in result) {
      pace.putOff(entry, result.seconds);
      return 'later';
    }
    if (!result.ok) return failed(entry, result.failure);
    pace.cameThrough(entry);
    await posted(entry, channel, result);
    trail.posted(entry);
    return 'posted';
  };

  const posted = async (
    entry: OutboxEntry,
    channel: Channel,
    { posted: at }: Extract<PostResult, { ok: true }>,
  ): Promise<void> => {
    const { message, place } = at;
    const where = { channel: channel.name, team: place.team, place: place.place };
    const keep = entry.post.edit && !entry.post.sign && entry.post.to.where !== 'reply';
    if (entry.post.key === 'sheet') {
      const { threads } = await needs.refsOf(entry.job);
      if (!threads.some((thread) => thread.channel === channel.name)) {
        await needs.threadOpened(entry.job, { ...where, thread: message });
        if (entry.post.pin && channel.pin) await channel.pin(at).catch(() => undefined);
      }
    }
    await settle(entry, keep ? { key: entry.post.key, ...where, message } : undefined);
  };

  const failed = async (entry: OutboxEntry, failure: PostFailure): Promise<Outcome> => {
    const tries = entry.tries + 1;
    const most = entry.post.urgent ? MOST_TRIES_URGENT : MOST_TRIES;
    if (failure.kind === 'refused' && (tries >= most || entry.post.sign)) {
      trail.givenUp(entry, failure.why);
      await settle(entry, undefined);
      return 'given-up';
    }
    const state = failure.kind === 'unclear' ? 'unclear' : entry.state;
    const seconds = pace.failed(entry, failure, tries);
    trail.putOff(entry, failure, seconds);
    const changed: OutboxEntry = {
      ...entry,
      tries: failure.kind === 'wait' ? entry.tries : tries,
      state,
    };
    waiting.change(changed);
    await needs.store.keepPost(entry.job, entry.id, { tries: changed.tries, state });
    return 'later';
  };

  const isReady = (entry: OutboxEntry, now = Date.parse(clock())): boolean =>
    pace.readyAt(entry) <= now;

  const firstReady = (entries: Iterable<OutboxEntry>, now: number): OutboxEntry | undefined => {
    for (const each of entries) if (isReady(each, now)) return each;
    return undefined;
  };

  /** The job sheet is the root of the thread: what goes into the thread goes behind it, whatever came first. */
  const sheetBefore = (entry: OutboxEntry, now: number): OutboxEntry =>
    (entry.post.to.where === 'thread'
      ? waiting.lane(entry).find((each) => each.post.key === 'sheet' && isReady(each, now))
      : undefined) ?? entry;

  const nextOf = (name: Delivery['channel']): OutboxEntry | undefined => {
    const now = Date.parse(clock());
    const first = firstReady(waiting.urgentOf(name), now) ?? firstReady(waiting.of(name), now);
    return first && sheetBefore(first, now);
  };

  const pass = async (name: Delivery['channel']): Promise<void> => {
    for (;;) {
      const entry = nextOf(name);
      if (!entry || stopped) return;
      try {
        if ((await deliver(entry)) === 'later' && isReady(entry)) pace.putOff(entry, 1);
      } catch (error) {
        pace.putOff(entry, 5);
        trail.log('error', 'the outbox could not be kept', {
          trace: traceOfPost(entry),
          job: entry.job,
          why: (error as Error).message,
        });
      }
    }
  };

  /** One timer for all: at the time at which the first of the channels at rest has something to do. */
  const plan = (): void => {
    if (stopped) return;
    let next = Number.POSITIVE_INFINITY;
    for (const name of waiting.channels())
      if (!running.has(name))
        for (const entry of waiting.of(name)) next = Math.min(next, pace.readyAt(entry));
    if (next === Number.POSITIVE_INFINITY) return;
    needs.schedule.at('outbox', new Date(next).toISOString(), kick);
  };

  const kick = (): void => {
    if (stopped) return;
    for (const name of waiting.channels()) {
      if (running.has(name)) continue;
      running.set(
        name,
        pass(name).finally(() => {
          running.delete(name);
          if (nextOf(name) && !stopped) kick();
          else plan();
        }),
      );
    }
  };

  return {
    add: (entries) => {
      const fresh = entries.filter((entry) => !known.has(nameOf(entry)));
      if (fresh.length === 0) return;
      for (const entry of fresh) {
        know(entry);
        waiting.add(entry);
      }
      kick();
    },
    backlog: waiting.size,
    backlogs: () =>
      [...needs.channels.keys()].map((channel) => {
        let since = '';
        for (const { madeAt } of waiting.of(channel))
          if (since === '' || madeAt < since) since = madeAt;
        return { channel, posts: waiting.sizeOf(channel), since };
      }),
    kick,
    drained: async () => {
      while (running.size > 0) await Promise.all(running.values());
    },
    stop: async () => {
      stopped = true;
      needs.schedule.cancel('outbox');
      await Promise.all(running.values());
    },
  };
};
