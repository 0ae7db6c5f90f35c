// How the floor's cards come into the conversation: the channel contract's post, edit, sign, pin and find.
import { randomUUID } from 'node:crypto';
import type { Channel, Posted, PostFailure, PostResult } from '../../channel.ts';
import type { Conversation } from './conversation.ts';

export type Posting = Required<Pick<Channel, 'post' | 'edit' | 'sign' | 'pin' | 'find'>>;

const failed = (failure: PostFailure): PostResult => ({ ok: false, failure });
const noThread = (thread: string): PostResult =>
  failed({ kind: 'refused', why: `There is no thread ${thread} on the bench.` });
/** The disk did not take it. Nothing of a failed line stays in the file, so it may be posted again. */
const notWritten: PostResult = failed({ kind: 'wait', seconds: 5 });

export function openPosting(conversation: Conversation, clock: () => string): Posting {
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
      const only = place.person === undefined ? {} : { only: place.person };
      try {
        await conversation.add(roll, {
          what: 'posted',
          id: message,
          at: clock(),
          key,
          card,
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
