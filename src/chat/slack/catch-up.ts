// Reads what was posted while nobody listened: the channels and open job threads, from a little before the last mark.
// Everything found goes the usual way in; what was known already is seen as such there. Messages, replies, edits and ticks
// are found; deletions only of roots with replies; taps, commands, forms and joining never: Slack shows none of them later,
// but told the person at once that it did not work.
import type { WebClient } from '@slack/web-api';
import type { Delivery } from '../../../shared/delivery.ts';
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

  /** All pages of a reading; gives up on it, and says so, when it is refused. */
  const pages = async (
    place: string,
    ask: (cursor: string | undefined) => Promise<Page>,
  ): Promise<readonly Payload[]> => {
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
        if (!cursor) return messages;
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
        return messages;
      }
    }
    return messages;
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
  for (const place of new Set(options.places)) {
    const messages = await pages(place, (cursor) =>
      web.conversations.history({
        channel: place,
        oldest: from(EDITS_BACK),
        limit: 200,
        ...(cursor ? { cursor } : {}),
      }),
    );
    for (const message of messages) {
      const ts = textAt(message, 'ts');
      if (ts && Number(textAt(message, 'latest_reply') ?? 0) > since)
        threads.set(`${place}:${ts}`, { place, thread: ts });
      found.push(...deliveriesOf(place, message));
    }
  }
  for (const { place, thread } of threads.values()) {
    const messages = await pages(place, (cursor) =>
      web.conversations.replies({
        channel: place,
        ts: thread,
        oldest: from(EDITS_BACK),
        limit: 200,
        ...(cursor ? { cursor } : {}),
      }),
    );
    for (const message of messages) found.push(...deliveriesOf(place, message));
  }
  const once = new Map(found.map((each) => [each.delivery.id, each]));
  const ordered = [...once.values()].sort((a, b) => a.ts - b.ts);
  for (const { delivery } of ordered) await options.accept(delivery);
  return { read: ordered.length, whole };
};
