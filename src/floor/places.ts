// Where on a platform things are said: where a delivery is answered, and where a job lives.
import { z } from 'zod';
import type { Delivery } from '../../shared/delivery.ts';
import type { Place } from '../chat/channel.ts';

const PlaceForm = z.strictObject({
  team: z.string(),
  place: z.string(),
  thread: z.string().optional(),
  person: z.string().optional(),
});

/** The mark under which it is kept where a job was opened: it lives there, whatever the channel's usual place is. */
export const homeMark = (job: string, channel: string): string => `home:${job}:${channel}`;

/** Where a delivery is answered: in its thread, else under the message itself where the platform has threads. */
export const placeOf = (delivery: Delivery): Place => ({
  team: delivery.team,
  place: delivery.place,
  person: delivery.person,
  ...(delivery.thread
    ? { thread: delivery.thread }
    : delivery.kind === 'message' && !delivery.direct && delivery.channel !== 'bench'
      ? { thread: delivery.message }
      : {}),
});

/** A place as it is kept in a mark; undefined where the text is none. */
export const placeFromText = (text: string): Place | undefined => {
  try {
    const parsed = PlaceForm.safeParse(JSON.parse(text));
    return parsed.success ? (parsed.data as Place) : undefined;
  } catch {
    return undefined;
  }
};

/** A post outside every job carries its place: the channel's name, a bar, the place as JSON. */
export const placeWritten = (channel: string, place: Place): string =>
  `${channel}|${JSON.stringify(place)}`;

export const placeRead = (written: string): Place | undefined =>
  placeFromText(written.slice(written.indexOf('|') + 1));
