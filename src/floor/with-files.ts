// What a turn says about the files of its message: that they are kept, with the usual sign; or that one was not, in its reply.
import type { Post } from '../desk/card.ts';
import { gather, ORDER } from '../desk/cards/gather.ts';
import type { Turn } from '../desk/turn/turn.ts';
import type { KeptFiles } from './keep-files.ts';

/**
 * @param turn what the desk made of the message
 * @param said the message's id within the job, and the id of the turn
 */
export const withFiles = <T extends Turn>(
  turn: T,
  { events, lost }: KeptFiles,
  said: { readonly id: string; readonly message: string },
): T => {
  const posts: Post[] = [...turn.posts];
  if (events.length > 0 && !posts.some((post) => post.sign?.message === said.message))
    posts.push({
      key: `sign:${said.message}:recorded`,
      to: { where: 'thread' },
      sign: { message: said.message, mark: 'recorded' },
      edit: false,
      urgent: false,
    });
  if (lost.length > 0) {
    const text = lost.map(({ name, why }) => `"${name}" was not kept. ${why}`).join(' ');
    const remark = {
      order: ORDER.remark,
      card: { text, blocks: [{ kind: 'text' as const, text }] },
    };
    const key = `reply:${said.id}`;
    const at = posts.findIndex((post) => post.key === key && post.card);
    const reply = posts[at];
    const card = gather([...(reply?.card ? [{ order: 0, card: reply.card }] : []), remark]);
    if (reply && card) posts[at] = { ...reply, card };
    else if (card) posts.push({ key, to: { where: 'thread' }, card, edit: true, urgent: false });
  }
  return { ...turn, events: [...events, ...turn.events], posts };
};
