// Messages that stand on a record and were deleted while nobody listened. Slack shows no deletion afterwards, but a message
// that is in no whole listing of its channel and threads, and that Slack does not know when asked for it, is gone.
import type { WebClient } from '@slack/web-api';
import type { Delivery } from '../../../shared/delivery.ts';
import type { HeardMessage } from '../channel.ts';
import { payload, textAt } from './json.ts';
import { errorName, failureOf } from './post-failure.ts';
import { goneDelivery, type Surroundings } from './translate-event.ts';

type Listing = {
  /** Every ts that was shown. */
  readonly shown: ReadonlySet<string>;
  /** The channel itself was read to the end. */
  readonly whole: boolean;
  /** Threads that were read to the end. */
  readonly threads: ReadonlySet<string>;
};

type GoneOptions = {
  readonly web: WebClient;
  readonly around: Surroundings;
  readonly place: string;
  readonly heard: readonly HeardMessage[];
  readonly listing: Listing;
  /** ts from which on everything was listed. */
  readonly from: number;
  readonly wait: (seconds: number) => Promise<void>;
};

/**
 * Seconds; what is older is not looked for: where a workspace keeps messages for a day only, the shortest it can set, old
 * ones vanish without having been deleted by anybody. Source: slack.com/help, "Customize message and file retention".
 */
const YOUNG = 20 * 3600;
/** Single messages that are asked for in one reading. */
const MOST_ASKED = 60;
const MOST_WAITS = 5;
const UNKNOWN = /^(?:thread_not_found|message_not_found)$/u;

/** Whether Slack knows a message; undefined where it cannot be told. */
const isThere = async (
  { web, place, wait }: GoneOptions,
  ts: string,
): Promise<boolean | undefined> => {
  for (let waits = 0; waits <= MOST_WAITS; waits += 1) {
    try {
      const { messages = [] } = await web.conversations.replies({ channel: place, ts, limit: 1 });
      if (messages.length === 0) return false;
      const one = messages.map(payload).find((each) => textAt(each, 'ts') === ts);
      return one === undefined ? undefined : textAt(one, 'subtype') !== 'tombstone';
    } catch (error) {
      if (UNKNOWN.test(errorName(error) ?? '')) return false;
      const failure = failureOf(error);
      if (failure.kind !== 'wait') return undefined;
      await wait(failure.seconds);
    }
  }
  return undefined;
};

/** The deletions of one place that are found; nothing where a listing is not whole. */
export const goneFrom = async (options: GoneOptions): Promise<readonly Delivery[]> => {
  const { around, place, heard, listing, from } = options;
  const young = Date.parse(around.now) / 1000 - YOUNG;
  const missing = heard.filter(
    ({ message, threads }) =>
      !listing.shown.has(message) &&
      Number(message) >= Math.max(from, young) &&
      listing.whole &&
      threads.every((thread) => listing.threads.has(thread)),
  );
  const gone: Delivery[] = [];
  for (const { message, person, threads } of missing.slice(-MOST_ASKED)) {
    if ((await isThere(options, message)) !== false) continue;
    const delivery = goneDelivery(place, message, person, threads[0], around);
    if (delivery) gone.push(delivery);
  }
  return gone;
};
