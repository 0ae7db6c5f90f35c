// Reads what was posted while nobody listened: the channels and open job threads, from a little before the last mark.
// Everything found goes the usual way in; what was known already is seen as such there. Messages, replies, edits and ticks
// are found, and what was deleted of what stands on a record; taps, commands, forms and joining never: Slack shows none of
// them later, but told the person at once that it did not work.
import type { WebClient } from '@slack/web-api';
import type { Delivery } from '../../../shared/delivery.ts';
import type { HeardMessage } from '../channel.ts';
import { goneFrom } from './gone.ts';
import { type Payload, payload, textAt } from './json.ts';
import { errorName, failureOf } from './post-failure.ts';
import type { SlackLog } from './slack-log.ts';
import {
  deletedFromHistory,
  editDelivery,
  messageDelivery,
  type Surroundings,
  ticksFromHistory,
} from './translate-event.ts';

export type Thread = { readonly place: string; readonly thread: string };

export type CatchUpOptions = {
  readonly web: WebClient;
  readonly around: Surroundings;
  /** ts of the last message that was kept. */
  readonly since: string;
  readonly places: readonly string[];
  readonly threads: readonly Thread[];
  readonly accept: (delivery: Delivery) => Promise<unknown>;
  /** What people posted in a place since a ts and stands on the record of an open job. */
  readonly heard: (place: string, since: number) => Promise<readonly HeardMessage[]>;
  readonly log: SlackLog;
  readonly wait: (seconds: number) => Promise<void>;
};

/** Seconds before the mark: deliveries come late and out of order, Slack's own repeats after 5 minutes. */
const MARGIN = 600;
/** Seconds before the mark in which messages may have been edited since. */
const EDITS_BACK = 12 * 3600;
const MOST_PAGES = 50;
const MOST_WAITS = 10;

type Found = { readonly ts: number; readonly delivery: Delivery };
type Page = {
  readonly messages?: readonly unknown[];
  readonly has_more?: boolean;
  readonly response_metadata?: { readonly next_cursor?: string };
};

/**
 * @returns how many deliveries were new or looked at again, and whether everything could be read
 */
export const catchUp = async (
  options: CatchUpOptions,
): Promise<{ readonly read: number; readonly whole: boolean }> => {
  const { web, around, log, wait } = options;
  const since = Number(options.since) - MARGIN;
  const from = (seconds: number): string => Math.max(0, since - seconds).toFixed(6);
  let whole = true;
  let waits = 0;

  /** All pages of a reading; gives up on it, and says so, when it is refused: then it is not the whole. */
  const pages = async (
    place: string,
    ask: (cursor: string | undefined) => Promise<Page>,
  ): Promise<{ readonly messages: readonly Payload[]; readonly isWhole: boolean }> => {
    const messages: Payload[] = [];
    let cursor: string | undefined;
    for (let page = 0; page < MOST_PAGES; page += 1) {
      try {
        const found = await ask(cursor);
        messages.push(
          ...(found.messages ?? []).flatMap((each): readonly Payload[] => {
            const one = payload(each);
            return one ? [one] : [];
          }),
        );
        cursor = found.response_metadata?.next_cursor || undefined;
        if (!cursor) return { messages, isWhole: found.has_more !== true };
      } catch (error) {
        const failure = failureOf(error);
        if (failure.kind === 'wait' && waits < MOST_WAITS) {
          waits += 1;
          await wait(failure.seconds);
          continue;
        }
        // Where the bot is no member any more there is nothing to read; anything else is tried again.
        const gone =
          /^(?:not_in_channel|channel_not_found|is_archived|thread_not_found|missing_scope)$/u;
        if (!gone.test(errorName(error) ?? '')) whole = false;
        log('warn', 'What was missed in a Slack channel could not be read.', {
          place,
          why: failure.kind === 'wait' ? 'too many requests' : failure.why,
        });
        return { messages, isWhole: false };
      }
    }
    return { messages, isWhole: false };
  };

  const deliveriesOf = (place: string, message: Payload): readonly Found[] => {
    const ts = Number(textAt(message, 'ts') ?? 0);
    const edited = Number(textAt(message, 'edited.ts') ?? 0);
    const found: Found[] = [];
    const add = (when: number, delivery: Delivery | undefined) => {
      if (delivery) found.push({ ts: when, delivery });
    };
    if (textAt(message, 'subtype') === 'tombstone') {
      add(ts, deletedFromHistory(place, message, around));
      return found;
    }
    if (ts > since) add(edited || ts, messageDelivery(place, message, [], around, true));
    if (edited > since) add(edited, editDelivery(place, message, [], around));
    for (const tick of ticksFromHistory(place, message, around))
      add(Date.parse(tick.at) / 1000, tick);
    return found;
  };

  const found: Found[] = [];
  const threads = new Map(options.threads.map((each) => [`${each.place}:${each.thread}`, each]));
  const listings = new Map<string, { shown: Set<string>; whole: boolean; threads: Set<string> }>();
  const take = (place: string, messages: readonly Payload[]): void => {
    const shown = listings.get(place)?.shown;
    for (const message of messages) {
      if (textAt(message, 'subtype') !== 'tombstone') shown?.add(textAt(message, 'ts') ?? '');
      found.push(...deliveriesOf(place, message));
    }
  };
  for (const place of new Set(options.places)) {
    const { messages, isWhole } = await pages(place, (cursor) =>
      web.conversations.history({
        channel: place,
        oldest: from(EDITS_BACK),
        limit: 200,
        ...(cursor ? { cursor } : {}),
      }),
    );
    listings.set(place, { shown: new Set(), whole: isWhole, threads: new Set() });
    for (const message of messages) {
      const ts = textAt(message, 'ts');
      if (ts && Number(textAt(message, 'latest_reply') ?? 0) > since)
        threads.set(`${place}:${ts}`, { place, thread: ts });
    }
    take(place, messages);
  }
  for (const { place, thread } of threads.values()) {
    const { messages, isWhole } = await pages(place, (cursor) =>
      web.conversations.replies({
        channel: place,
        ts: thread,
        oldest: from(EDITS_BACK),
        limit: 200,
        ...(cursor ? { cursor } : {}),
      }),
    );
    if (isWhole) listings.get(place)?.threads.add(thread);
    take(place, messages);
  }
  for (const [place, listing] of listings) {
    const heard = await options.heard(place, Number(from(EDITS_BACK)));
    const gone = await goneFrom({
      web,
      around,
      place,
      heard,
      listing,
      from: Number(from(EDITS_BACK)),
      wait,
    });
    for (const delivery of gone) found.push({ ts: Date.parse(delivery.at) / 1000, delivery });
  }
  const once = new Map(found.map((each) => [each.delivery.id, each]));
  const ordered = [...once.values()].sort((a, b) => a.ts - b.ts);
  for (const { delivery } of ordered) await options.accept(delivery);
  return { read: ordered.length, whole };
};
