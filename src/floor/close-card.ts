// A card that asked something outside every job says what came of it once it is answered, and offers nothing more to tap.
import type { Delivery } from '../../shared/delivery.ts';
import type { Channel } from '../chat/channel.ts';

type Tap = Extract<Delivery, { kind: 'tap' }>;

/**
 * Changes the card a tap came from; false where that is not possible, such as one that only one person saw. A card that
 * stays as it was does no harm: a second tap is answered with what is so already.
 */
export const closeCard = async (
  channels: readonly Channel[],
  tap: Tap,
  text: string,
): Promise<boolean> => {
  const channel = channels.find(({ name }) => name === tap.channel);
  if (!channel || tap.message === undefined) return false;
  const place = {
    team: tap.team,
    place: tap.place,
    ...(tap.thread ? { thread: tap.thread } : {}),
  };
  const card = { text, blocks: [{ kind: 'text' as const, text }] };
  const result = await channel
    .edit({ message: tap.message, place }, card)
    .catch(() => ({ ok: false }) as const);
  return result.ok;
};
