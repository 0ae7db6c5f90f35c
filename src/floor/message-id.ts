// A message's id within a job names its platform and place too, so that a sign finds its way back.
import type { Delivery } from '../../shared/delivery.ts';

type Spot = {
  readonly channel: Delivery['channel'];
  readonly place: string;
  readonly message: string;
};

export const messageId = (spot: Spot): string =>
  `${spot.channel}:${encodeURIComponent(spot.place)}:${spot.message}`;

/** @returns undefined for an id of another kind, such as that of a tap */
export const spotOf = (id: string): Spot | undefined => {
  const match = /^(bench|slack|teams):([^:]*):(.+)$/u.exec(id);
  if (!match) return undefined;
  return {
    channel: match[1] as Delivery['channel'],
    place: decodeURIComponent(match[2] ?? ''),
    message: match[3] ?? '',
  };
};
