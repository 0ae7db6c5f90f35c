// What the bot still has to post: kept on disk by the store, posted in order for each job, stops first, nothing twice.
import type { Delivery } from '../../shared/delivery.ts';
import type { Channel, Place, PostResult } from '../chat/channel.ts';
import type { Schedule } from '../schedule/timers.ts';
import type { JobStore, OutboxEntry, PostRef, ThreadRef } from '../store/job-store.ts';
import { spotOf } from './message-id.ts';

export type Home = { readonly team: string; readonly place: string };

export type OutboxNeeds = {
  readonly store: JobStore;
  readonly channels: ReadonlyMap<Delivery['channel'], Channel>;
  readonly schedule: Schedule;
  readonly clock: () => string;
  readonly log: (level: 'info' | 'warn' | 'error', what: string, more?: object) => void;
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

export type Outbox = {
  readonly add: (entries: readonly OutboxEntry[]) => void;
  /** Entries not posted yet. */
  readonly backlog: () => number;
  readonly kick: () => void;
  readonly stop: () => Promise<void>;
};

/** Tries before an entry that the platform refuses is given up, with a line in the log. */
const MOST_TRIES = 4;

type Outcome = 'posted' | 'later' | 'given-up';

export const outbox = (needs: OutboxNeeds, seed: readonly OutboxEntry[]): Outbox => {
  let waiting: OutboxEntry[] = [...seed];
  let running: Promise<void> | undefined;
  let stopped = false;
  /** Channel and job to the time before which nothing of it is tried: keeps the order of a job, not of all. */
  const notBefore = new Map<string, number>();
  /** Entries that were refused, tried again by themselves. */
  const entryNotBefore = new Map<string, number>();
  const laneOf = (entry: OutboxEntry): string => `${entry.channel}|${entry.job}`;

  const superseded = (entry: OutboxEntry): boolean =>
    entry.post.edit &&
    waiting.some(
      (other) =>
        other !== entry &&
        other.job === entry.job &&
        other.channel === entry.channel &&
        other.post.key === entry.post.key &&
        waiting.indexOf(other) > waiting.indexOf(entry),
    );

  const placeFor = async (entry: OutboxEntry): Promise<Place | 'later' | undefined> => {
    const { to } = entry.post;
    if (to.where === 'reply') return needs.placeOfDelivery(to.delivery);
    if (to.where === 'person') {
      const person = needs.personOn(to.name, entry.channel);
      const home = await needs.homeOf(entry.job, entry.channel);
      return person && home ? { ...home, person } : undefined;
    }
    const { threads } = await needs.refsOf(entry.job);
    const thread = threads.find((each) => each.channel === entry.channel);
    if (to.where === 'thread') {
      if (thread) return { team: thread.team, place: thread.place, thread: thread.thread };
      return waiting.some((other) => laneOf(other) === laneOf(entry) && other.post.key === 'sheet')
        ? 'later'
        : undefined;
    }
    if (thread) return { team: thread.team, place: thread.place };
    return needs.homeOf(entry.job, entry.channel);
  };

  const settle = async (entry: OutboxEntry, ref: PostRef | undefined): Promise<void> => {
    await needs.store.settlePost(entry.job, entry.id, ref);
    waiting = waiting.filter((other) => other.id !== entry.id || other.job !== entry.job);
    entryNotBefore.delete(entry.id);
  };

  const signed = async (entry: OutboxEntry, channel: Channel): Promise<PostResult | undefined> => {
    const spot = entry.post.sign ? spotOf(entry.post.sign.message) : undefined;
    if (
      !entry.post.sign ||
      !spot ||
      spot.channel !== channel.name ||
      channel.showsRecorded !== 'reaction'
    )
      return undefined;
    const { threads } = await needs.refsOf(entry.job);
    const thread = threads.find((each) => each.channel === channel.name);
    const place = { team: thread?.team ?? channel.name, place: spot.place };
    const { mark } = entry.post.sign;
    // A message of the job may stand outside its thread: the place without the thread is tried then.
    const inThread =
      thread && (await channel.sign({ ...place, thread: thread.thread }, spot.message, mark));
    return inThread && (inThread.ok || inThread.failure.kind !== 'refused')
      ? inThread
      : channel.sign(place, spot.message, mark);
  };

  const postCard = async (
    entry: OutboxEntry,
    channel: Channel,
  ): Promise<PostResult | 'later' | undefined> => {
    const { post } = entry;
    if (!post.card) return undefined;
    const { posts, threads } = await needs.refsOf(entry.job);
    const known = post.edit
      ? posts.find((ref) => ref.channel === channel.name && ref.key === post.key)
      : undefined;
    if (known) {
      const thread = threads.find((each) => each.channel === channel.name)?.thread;
      const inThread = post.to.where === 'thread' && thread !== undefined ? { thread } : {};
      return channel.edit(
        { message: known.message, place: { team: known.team, place: known.place, ...inThread } },
        post.card,
      );
    }
    const place = await placeFor(entry);
    if (place === 'later' || place === undefined) return place;
    if (entry.state === 'unclear' && channel.find) {
      const found = await channel.find(place, `${entry.job}|${entry.id}`);
      if (found) return { ok: true, posted: found };
    }
    // Kept as unclear before it goes out: after a pulled plug the next start looks for it before posting again.
    await needs.store.keepPost(entry.job, entry.id, { tries: entry.tries, state: 'unclear' });
    return channel.post(place, post.card, `${entry.job}|${entry.id}`);
  };

  const deliver = async (entry: OutboxEntry): Promise<Outcome> => {
    const channel = needs.channels.get(entry.channel);
    if (!channel || superseded(entry)) {
      await settle(entry, undefined);
      return 'given-up';
    }
    let result: PostResult | 'later' | undefined;
    try {
      result = entry.post.sign ? await signed(entry, channel) : await postCard(entry, channel);
    } catch (error) {
      result = { ok: false, failure: { kind: 'unclear', why: (error as Error).message } };
    }
    if (result === 'later') return 'later';
    if (result === undefined) {
      await settle(entry, undefined);
      return 'given-up';
    }
    if (result.ok) {
      const { message, place } = result.posted;
      const ref: PostRef = {
        key: entry.post.key,
        channel: channel.name,
        team: place.team,
        place: place.place,
        message,
      };
      const keep =
        entry.post.edit && entry.post.card !== undefined && entry.post.to.where !== 'reply';
      if (entry.post.key === 'sheet') {
        const { threads } = await needs.refsOf(entry.job);
        if (!threads.some((thread) => thread.channel === channel.name)) {
          await needs.threadOpened(entry.job, {
            channel: channel.name,
            team: place.team,
            place: place.place,
            thread: message,
          });
          if (entry.post.pin && channel.pin)
            await channel.pin(result.posted).catch(() => undefined);
        }
      }
      await settle(entry, keep ? ref : undefined);
      return 'posted';
    }
    return failed(entry, result.failure);
  };

  const failed = async (
    entry: OutboxEntry,
    failure: Extract<PostResult, { ok: false }>['failure'],
  ): Promise<Outcome> => {
    const tries = entry.tries + 1;
    if (failure.kind === 'refused' && (tries >= MOST_TRIES || entry.post.sign)) {
      needs.log('error', 'a post was refused and given up', {
        job: entry.job,
        key: entry.post.key,
        why: failure.why,
      });
      await settle(entry, undefined);
      return 'given-up';
    }
    const state = failure.kind === 'unclear' ? 'unclear' : entry.state;
    const seconds =
      failure.kind === 'wait' ? failure.seconds : Math.min(300, 2 ** Math.min(tries, 8));
    if (failure.kind !== 'wait')
      needs.log('warn', 'a post did not go out and is tried again', {
        job: entry.job,
        key: entry.post.key,
        why: failure.why,
        seconds,
      });
    const changed: OutboxEntry = {
      ...entry,
      tries: failure.kind === 'wait' ? entry.tries : tries,
      state,
    };
    waiting = waiting.map((other) =>
      other.id === entry.id && other.job === entry.job ? changed : other,
    );
    await needs.store.keepPost(entry.job, entry.id, { tries: changed.tries, state });
    // What is refused holds up nothing else; what waits for the platform keeps the order of its job.
    if (failure.kind === 'refused')
      entryNotBefore.set(entry.id, Date.parse(needs.clock()) + seconds * 1000);
    else putOff(entry, seconds);
    return 'later';
  };

  const readyAt = (entry: OutboxEntry): number =>
    Math.max(notBefore.get(laneOf(entry)) ?? 0, entryNotBefore.get(entry.id) ?? 0);
  const isReady = (entry: OutboxEntry): boolean => readyAt(entry) <= Date.parse(needs.clock());
  const putOff = (entry: OutboxEntry, seconds: number): void =>
    void notBefore.set(laneOf(entry), Date.parse(needs.clock()) + seconds * 1000);

  /** The job sheet is the root of the thread: what goes into the thread goes behind it, whatever came first. */
  const sheetBefore = (entry: OutboxEntry, ready: readonly OutboxEntry[]): OutboxEntry =>
    entry.post.to.where === 'thread'
      ? (ready.find((each) => laneOf(each) === laneOf(entry) && each.post.key === 'sheet') ?? entry)
      : entry;

  const pass = async (): Promise<void> => {
    for (;;) {
      const ready = waiting.filter(isReady);
      const first =
        ready.find((each) => each.post.urgent && each.post.to.where === 'channel') ?? ready[0];
      const entry = first && sheetBefore(first, ready);
      if (!entry || stopped) break;
      try {
        if ((await deliver(entry)) === 'later' && isReady(entry)) putOff(entry, 1);
      } catch (error) {
        putOff(entry, 5);
        needs.log('error', 'the outbox could not be kept', {
          job: entry.job,
          why: (error as Error).message,
        });
      }
    }
    if (stopped || waiting.length === 0) return;
    const next = Math.min(...waiting.map(readyAt));
    needs.schedule.at('outbox', new Date(next).toISOString(), kick);
  };

  const kick = (): void => {
    if (running || stopped) return;
    running = pass().finally(() => {
      running = undefined;
      if (!stopped && waiting.some(isReady)) kick();
    });
  };

  return {
    add: (entries) => {
      if (entries.length === 0) return;
      waiting.push(...entries);
      kick();
    },
    backlog: () => waiting.length,
    kick,
    stop: async () => {
      stopped = true;
      needs.schedule.cancel('outbox');
      await running;
    },
  };
};
