// How one post of the outbox reaches its channel: where it goes, as a new card, a changed one or a sign.
import type { Channel, Place, PostResult } from '../chat/channel.ts';
import type { OutboxEntry } from '../store/job-store.ts';
import { spotOf } from './message-id.ts';
import type { OutboxNeeds } from './outbox.ts';
import { pace } from './pace.ts';

/**
 * `later`: what it hangs from is not posted yet; `seconds`: the place takes no more just now; undefined: there is nowhere
 * to post it, or it is there already.
 */
export type Sent = PostResult | 'later' | { readonly seconds: number } | undefined;

export type OutboxSend = {
  /**
   * @param sheetWaits true while the job's sheet, the root of its thread, is still to be posted on the channel
   * @param isOver a newer card takes its place: only looked for, so that the newer one changes it and is not posted beside it
   */
  readonly send: (
    entry: OutboxEntry,
    channel: Channel,
    sheetWaits: boolean,
    isOver?: boolean,
  ) => Promise<Sent>;
};

export const outboxSend = (
  needs: Pick<
    OutboxNeeds,
    'store' | 'clock' | 'homeOf' | 'refsOf' | 'placeOfDelivery' | 'personOn'
  >,
): OutboxSend => {
  const posting = pace(needs.clock);
  const placeFor = async (
    entry: OutboxEntry,
    sheetWaits: boolean,
    direct: Channel['direct'],
  ): Promise<Place | 'later' | undefined> => {
    const { to } = entry.post;
    if (to.where === 'reply') return needs.placeOfDelivery(to.delivery);
    if (to.where === 'person') {
      const person = needs.personOn(to.name, entry.channel);
      if (person && direct) return direct('', person);
      const home = await needs.homeOf(entry.job, entry.channel);
      return person && home ? { ...home, person } : undefined;
    }
    const { threads } = await needs.refsOf(entry.job);
    const thread = threads.find((each) => each.channel === entry.channel);
    if (to.where === 'thread') {
      if (thread) return { team: thread.team, place: thread.place, thread: thread.thread };
      return sheetWaits ? 'later' : undefined;
    }
    if (thread) return { team: thread.team, place: thread.place };
    return needs.homeOf(entry.job, entry.channel);
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

  const card = async (
    entry: OutboxEntry,
    channel: Channel,
    sheetWaits: boolean,
    isOver: boolean,
  ): Promise<Sent> => {
    const { post } = entry;
    if (!post.card && !post.file) return undefined;
    const { posts, threads } = await needs.refsOf(entry.job);
    const known = post.edit
      ? posts.find((ref) => ref.channel === channel.name && ref.key === post.key)
      : undefined;
    // A file stays as it was posted: a card that is edited brings no second one.
    if (known && (isOver || !post.card)) return undefined;
    if (known && post.card) {
      const thread = threads.find((each) => each.channel === channel.name)?.thread;
      const inThread = post.to.where === 'thread' && thread !== undefined ? { thread } : {};
      return channel.edit(
        { message: known.message, place: { team: known.team, place: known.place, ...inThread } },
        post.card,
      );
    }
    const place = await placeFor(entry, sheetWaits, channel.direct);
    if (place === 'later' || place === undefined) return place;
    if (isOver) {
      const there = await channel.find?.(place, `${entry.job}|${entry.id}`);
      return there && { ok: true, posted: there };
    }
    const spot = `${channel.name}|${place.team}|${place.place}`;
    const seconds = posting.wait(spot, channel.paceSeconds);
    if (seconds > 0) return { seconds };
    const key = `${entry.job}|${entry.id}`;
    if (!post.card) {
      posting.used(spot);
      return post.file && channel.upload?.(place, post.file, key);
    }
    if (entry.state === 'unclear' && channel.find) {
      const found = await channel.find(place, key);
      if (found) return { ok: true, posted: found };
    }
    // Kept as unclear before it goes out: after a pulled plug the next start looks for it before posting again.
    if (entry.state !== 'unclear')
      await needs.store.keepPost(entry.job, entry.id, { tries: entry.tries, state: 'unclear' });
    posting.used(spot);
    return channel.post(place, post.card, key);
  };

  return {
    send: async (entry, channel, sheetWaits, isOver = false) => {
      try {
        return entry.post.sign
          ? await signed(entry, channel)
          : await card(entry, channel, sheetWaits, isOver);
      } catch (error) {
        return { ok: false, failure: { kind: 'unclear', why: (error as Error).message } };
      }
    },
  };
};
