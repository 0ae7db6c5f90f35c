// What is said outside every job: kept and posted like everything else, under the name of no job.
import type { Delivery } from '../../shared/delivery.ts';
import type { Channel, Place } from '../chat/channel.ts';
import type { Card } from '../desk/card.ts';
import type { JobStore, OutboxEntry } from '../store/job-store.ts';
import { filePosts } from './files-out.ts';
import { placeOf, placeWritten } from './places.ts';
import type { Queues } from './queues.ts';

/** What belongs to no job is kept under this name, which no job can have. */
export const NO_JOB = '_workshop';

type Parts = {
  readonly store: JobStore;
  readonly lanes: Queues;
  readonly clock: () => string;
  readonly homes: Readonly<Partial<Record<Delivery['channel'], Place>>>;
  readonly channels: ReadonlyMap<Delivery['channel'], Pick<Channel, 'upload'>>;
  readonly post: (entries: readonly OutboxEntry[]) => void;
};

export type Outside = {
  /** Says a card somewhere, once for a key. */
  readonly say: (
    key: string,
    channel: Delivery['channel'],
    place: Place,
    card: Card,
    settles?: string,
    /** `unclear`: it may have gone out before, and is looked for before it is posted. */
    state?: OutboxEntry['state'],
  ) => Promise<void>;
  /** Answers a delivery where it was said, and settles it. */
  readonly reply: (delivery: Delivery, card: Card) => Promise<void>;
  /** Tells everybody in the common place of each channel. */
  readonly tell: (key: string, card: Card, state?: OutboxEntry['state']) => Promise<void>;
};

export const sayOutside = ({ store, lanes, clock, homes, channels, post }: Parts): Outside => {
  const say: Outside['say'] = (key, channel, place, card, settles, state = 'waiting') =>
    lanes.run(`job:${NO_JOB}`, async () => {
      const entry: OutboxEntry = {
        id: `${channel}|${key}`,
        job: NO_JOB,
        channel,
        post: {
          key,
          to: { where: 'reply', delivery: placeWritten(channel, place) },
          card,
          edit: false,
          urgent: card.level === 'stop',
        },
        madeAt: clock(),
        tries: 0,
        state,
      };
      const outbox = [
        entry,
        ...filePosts(entry.post, channels.get(channel)).map((file) => ({
          ...entry,
          id: `${channel}|${file.key}`,
          post: file,
        })),
      ];
      const index = {
        job: NO_JOB,
        vehicle: '',
        plan: '',
        status: 'closed' as const,
        openedAt: clock(),
        threads: [],
      };
      for (let tries = 0; tries < 3; tries += 1) {
        const expected = (await store.load(NO_JOB))?.version ?? 0;
        const result = await store.append({
          job: NO_JOB,
          expected,
          events: [],
          outbox,
          index,
          ...(settles === undefined ? {} : { settles }),
        });
        if (!result.ok) continue;
        post(outbox);
        return;
      }
      throw new Error('What was to be said could not be kept.');
    });
  return {
    say,
    reply: (delivery, card) =>
      say(`reply:${delivery.id}`, delivery.channel, placeOf(delivery), card, delivery.id),
    tell: async (key, card, state) => {
      for (const [channel, home] of Object.entries(homes))
        await say(key, channel as Delivery['channel'], home, card, undefined, state);
    },
  };
};
