// How the floor's cards come into the conversation: the channel contract's post, edit, sign, pin and find.
import { randomUUID } from 'node:crypto';
import type { Card } from '../../../desk/card.ts';
import type { Channel, Posted, PostFailure, PostResult } from '../../channel.ts';
import type { Conversation } from './conversation.ts';

export type Posting = Required<Pick<Channel, 'post' | 'edit' | 'sign' | 'pin' | 'find'>>;

/** Something that came in: its own time and that of its coming. */
export type Arrived = { readonly at: string; readonly arrived: string };

const failed = (failure: PostFailure): PostResult => ({ ok: false, failure });
const noThread = (thread: string): PostResult =>
  failed({ kind: 'refused', why: `There is no thread ${thread} on the bench.` });
/** The disk did not take it. Nothing of a failed line stays in the file, so it may be posted again. */
const notWritten: PostResult = failed({ kind: 'wait', seconds: 5 });

/** A post this soon after something arrived in its thread speaks of it. */
const SOON_MS = 5 * 60_000;
const AN_HOUR = 3_600_000;

/**
 * @param onPage takes a card that the page which asked for it shows by itself, so that it stands in no thread
 * @param lately what arrived last in a thread: when it happened by the one who sent it, and when it arrived
 */
export function openPosting(
  conversation: Conversation,
  clock: () => string,
  lately: (thread: string | null) => Arrived | undefined = () => undefined,
  onPage: (key: string, card: Card) => boolean = () => false,
): Posting {
  /** The time of what a post speaks of, where that is long past. */
  const longAgo = (thread: string | undefined, now: string): { readonly of?: string } => {
    const last = lately(thread ?? null);
    if (last === undefined) return {};
    const isSoon = Date.parse(now) - Date.parse(last.arrived) < SOON_MS;
    return isSoon && Date.parse(now) - Date.parse(last.at) > AN_HOUR ? { of: last.at } : {};
  };
  /** Adds a line about a message that is there. */
  const amend = async (
    { place, message }: Posted,
    line: (id: string) => Parameters<Conversation['add']>[1],
  ): Promise<PostResult> => {
    const roll = await conversation.rollOf(place.thread, message);
    if (roll?.entry(message) === undefined) {
      return failed({ kind: 'refused', why: `There is no message ${message} on the bench.` });
    }
    try {
      await conversation.add(roll, line(message));
    } catch {
      return notWritten;
    }
    return { ok: true, posted: { message, place } };
  };

  return {
    post: async (place, card, key) => {
      const roll = await conversation.rollAt(place.thread);
      if (roll === undefined) return noThread(place.thread ?? '');
      const message = `p-${randomUUID()}`;
      if (onPage(key, card)) return { ok: true, posted: { message, place } };
      const now = clock();
      const only = place.person === undefined ? {} : { only: place.person };
      try {
        await conversation.add(roll, {
          what: 'posted',
          id: message,
          at: now,
          key,
          card,
          ...longAgo(place.thread, now),
          ...only,
        });
      } catch {
        return notWritten;
      }
      return { ok: true, posted: { message, place } };
    },
    edit: (posted, card) => amend(posted, (id) => ({ what: 'redrawn', id, at: clock(), card })),
    sign: (place, message, mark) =>
      amend({ place, message }, (id) => ({ what: 'signed', id, mark })),
    pin: (posted) => amend(posted, (id) => ({ what: 'pinned', id })),
    find: async (place, key) => {
      const roll = await conversation.rollAt(place.thread);
      const found = roll?.entries().findLast((entry) => entry.key === key);
      return found === undefined ? undefined : { message: found.id, place };
    },
  };
}
