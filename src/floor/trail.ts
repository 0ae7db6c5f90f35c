// What happens to a message, from its arrival to what is posted about it, told under one number: to the log, and to
// whoever counts. The number says nothing about the message, its writer or its job.
import { createHash } from 'node:crypto';
import type { Delivery } from '../../shared/delivery.ts';
import type { PostFailure } from '../chat/channel.ts';
import type { OutboxEntry } from '../store/job-store.ts';

export type Log = (level: 'info' | 'warn' | 'error', what: string, more?: object) => void;

type Channel = Delivery['channel'];

/** One step on the way, without anything of a job or a person: fit to be counted and shown. */
export type Step =
  | {
      readonly step: 'accepted';
      readonly channel: Channel;
      readonly kind: Delivery['kind'];
      readonly kept: 'new' | 'seen' | 'not-kept';
      /** Seconds until it was on the disk. */
      readonly seconds: number;
    }
  | { readonly step: 'worked-off'; readonly channel: Channel; readonly well: boolean }
  | { readonly step: 'recorded'; readonly events: number; readonly posts: number }
  | { readonly step: 'posted'; readonly channel: Channel; readonly sort: 'card' | 'sign' }
  | { readonly step: 'put-off'; readonly channel: Channel; readonly why: PostFailure['kind'] }
  | { readonly step: 'given-up'; readonly channel: Channel };

/** Twelve hexadecimal digits for a delivery or another cause of posts. */
export const traceOf = (cause: string): string =>
  createHash('sha256').update(cause).digest('hex').slice(0, 12);

/** The number of the message behind a post: the id of a post begins with its channel and its cause. */
export const traceOfPost = (entry: OutboxEntry): string =>
  traceOf((entry.id.split('|')[1] ?? '').replace(/^(?:reply|kept):/u, ''));

export type Trail = {
  readonly log: Log;
  readonly accepted: (
    delivery: Delivery,
    kept: 'new' | 'seen' | 'not-kept',
    seconds: number,
  ) => void;
  readonly workedOff: (delivery: Delivery, error?: Error) => void;
  readonly recorded: (cause: string, job: string, events: number, posts: number) => void;
  readonly posted: (entry: OutboxEntry) => void;
  readonly putOff: (entry: OutboxEntry, failure: PostFailure, seconds: number) => void;
  readonly givenUp: (entry: OutboxEntry, why: string) => void;
};

/** @param watch told of each step */
export const trail = (log: Log, watch: (step: Step) => void = () => undefined): Trail => {
  const about = (entry: OutboxEntry) => ({
    trace: traceOfPost(entry),
    channel: entry.channel,
    job: entry.job,
    key: entry.post.key,
  });
  return {
    log,
    accepted: ({ id, channel, kind }, kept, seconds) => {
      const milliseconds = Math.round(seconds * 1000);
      log(kept === 'not-kept' ? 'error' : 'info', 'received', {
        ...{ trace: traceOf(id), channel, kind, kept, milliseconds },
      });
      watch({ step: 'accepted', channel, kind, kept, seconds });
    },
    workedOff: ({ id, channel }, error) => {
      if (error)
        log('error', 'a delivery could not be worked off and stays in the inbox', {
          trace: traceOf(id),
          delivery: id,
          why: error.message,
          stack: error.stack,
        });
      watch({ step: 'worked-off', channel, well: error === undefined });
    },
    recorded: (cause, job, events, posts) => {
      log('info', 'recorded', { trace: traceOf(cause), job, events, posts });
      watch({ step: 'recorded', events, posts });
    },
    posted: (entry) => {
      const sort = entry.post.sign ? 'sign' : 'card';
      log('info', 'posted', { ...about(entry), sort });
      watch({ step: 'posted', channel: entry.channel, sort });
    },
    putOff: (entry, failure, seconds) => {
      log('warn', 'a post did not go out and is tried again', {
        ...about(entry),
        failure: failure.kind,
        ...(failure.kind === 'wait' ? {} : { why: failure.why }),
        seconds,
      });
      watch({ step: 'put-off', channel: entry.channel, why: failure.kind });
    },
    givenUp: (entry, why) => {
      log('error', 'a post was refused and given up', { ...about(entry), why });
      watch({ step: 'given-up', channel: entry.channel });
    },
  };
};
