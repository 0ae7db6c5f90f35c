// The form of a job's file, and how older forms are lifted to it.
import { z } from 'zod';
import { Delivery } from '../../shared/delivery.ts';
import { JobEvent, StoredEvent } from '../../shared/event.ts';
import type { Post } from '../desk/card.ts';
import { noPeople, sealEvent } from './chain.ts';
import type { IndexEntry, OutboxEntry, PostRef, ThreadRef } from './job-store.ts';

const ChannelName = Delivery.options[0].shape.channel;

export const ThreadForm = z.strictObject({
  channel: ChannelName,
  team: z.string(),
  place: z.string(),
  thread: z.string(),
});

export const IndexEntryForm = z.strictObject({
  job: z.string(),
  vehicle: z.string(),
  vin: z.string().exactOptional(),
  plan: z.string(),
  status: z.enum(['open', 'closed', 'cancelled']),
  technician: z.string().exactOptional(),
  openedAt: z.string(),
  closedAt: z.string().exactOptional(),
  threads: z.array(ThreadForm),
});

export const PostRefForm = z.strictObject({
  key: z.string(),
  channel: ChannelName,
  team: z.string(),
  place: z.string(),
  message: z.string(),
});

/** A card is kept as it came; the channels draw it, so only what the store itself uses is looked at. */
const PostForm = z.custom<Post>((value) => {
  if (typeof value !== 'object' || value === null) return false;
  const post = value as Record<string, unknown>;
  return (
    typeof post.key === 'string' &&
    typeof post.to === 'object' &&
    typeof post.edit === 'boolean' &&
    typeof post.urgent === 'boolean'
  );
}, 'a post with key, to, edit and urgent');

export const OutboxEntryForm = z.strictObject({
  id: z.string(),
  job: z.string(),
  channel: ChannelName,
  post: PostForm,
  madeAt: z.string(),
  tries: z.number().int().nonnegative(),
  state: z.enum(['waiting', 'unclear']),
});

/** An outbox entry with its place in the order over all jobs. */
const QueuedForm = z.strictObject({
  order: z.number().int().nonnegative(),
  entry: OutboxEntryForm,
});
export type Queued = {
  readonly order: number;
  readonly entry: OutboxEntry;
};

export const JOB_FORMAT = 1;

export const JobData = z.strictObject({
  job: z.string(),
  index: IndexEntryForm,
  threads: z.array(ThreadForm),
  posts: z.array(PostRefForm),
  /** Fingerprints of the deliveries that were settled here, the newest ones. */
  settled: z.array(z.string()),
  outbox: z.array(QueuedForm),
  events: z.array(StoredEvent),
});
export type JobData = {
  readonly job: string;
  readonly index: IndexEntry;
  readonly threads: readonly ThreadRef[];
  readonly posts: readonly PostRef[];
  readonly settled: readonly string[];
  readonly outbox: readonly Queued[];
  readonly events: readonly StoredEvent[];
};

/** Format 0, of the first drafts: events without a chain, nothing settled. */
const JobDataFormat0 = z.strictObject({
  job: z.string(),
  index: IndexEntryForm,
  threads: z.array(ThreadForm),
  events: z.array(JobEvent),
});

/** One step from each older format to the next; `salt` serves formats that began without one. */
const LIFTS: readonly ((data: unknown, salt: () => string) => unknown)[] = [
  (data, salt) => {
    const old = JobDataFormat0.parse(data);
    const people = noPeople();
    const events: StoredEvent[] = [];
    for (const event of old.events) {
      events.push(sealEvent(events.at(-1)?.hash, event, salt(), people));
    }
    return {
      job: old.job,
      index: old.index,
      threads: old.threads,
      posts: [],
      settled: [],
      outbox: [],
      events,
    };
  },
];

/**
 * The data of a job's file of any format up to the present one.
 * @throws ZodError where it does not have the form of its format.
 */
export function liftJob(format: number, data: unknown, salt: () => string): JobData {
  let lifted = data;
  for (const lift of LIFTS.slice(format)) lifted = lift(lifted, salt);
  return JobData.parse(lifted);
}
