// The contract every channel keeps: bench, slack, teams. A channel only translates; it decides nothing about jobs.

import type { Delivery } from '../../shared/delivery.ts';
import type { Card, CardFile, CardPicture, Form, Intent } from '../desk/card.ts';

/** Where a post goes on one platform. */
export type Place = {
  readonly team: string;
  readonly place: string;
  readonly thread?: string;
  readonly person?: string;
};

export type Posted = { readonly message: string; readonly place: Place };

/** How a post failed, so that the outbox knows what to do. */
export type PostFailure =
  | { readonly kind: 'wait'; readonly seconds: number }
  /** It may or may not have been posted: look before posting again. */
  | { readonly kind: 'unclear'; readonly why: string }
  | { readonly kind: 'refused'; readonly why: string };

export type PostResult =
  | { readonly ok: true; readonly posted: Posted }
  | { readonly ok: false; readonly failure: PostFailure };

export type HeardWhere = {
  readonly channel: Delivery['channel'];
  readonly place: string;
  readonly since: string;
};
export type HeardMessage = {
  /** The platform's id of the message, and of who posted it. */
  readonly message: string;
  readonly person: string;
  /** The threads of its job in this place; the message stands in one of them, or in the channel itself. */
  readonly threads: readonly string[];
};

/** What the floor offers to a channel. */
export type Intake = {
  /** Resolves once the delivery is synced to disk, or known already; only then may the channel acknowledge it. */
  readonly accept: (delivery: Delivery) => Promise<'new' | 'seen'>;
  /** The form behind an intent, filled with what is known, for channels that must show it at once. */
  readonly formFor: (
    intent: Intent,
    person: string,
    channel: Delivery['channel'],
  ) => Promise<Form | undefined>;
  /** Keeps a message until the form for its job is filled; resolves once that is on disk. */
  readonly setAside?: (delivery: Extract<Delivery, { kind: 'message' }>) => Promise<void>;
  /** The page of one person as it stands, for a channel that has one. */
  readonly homeFor?: (person: string, channel: Delivery['channel']) => Promise<Card>;
  /** Called with each job that changed; what comes back ends it. */
  readonly onChange?: (listener: (job: string) => void) => () => void;
  /** The bytes of a file that a card carries; undefined where the store has it no more. */
  readonly fileOf?: (file: Pick<CardFile, 'job' | 'kept'>) => Promise<Uint8Array | undefined>;
  /**
   * What people posted in a place since a time (ISO) and stands on the records of open jobs, with the threads of its job:
   * for a channel that learns of deletions by what is gone.
   */
  readonly heardIn?: (where: HeardWhere) => Promise<readonly HeardMessage[]>;
  /**
   * What in a delivery only counts as a person's own word, in words: a release, an override, an independent check.
   * Undefined where it holds none. For channels on devices that several people share.
   */
  readonly ownWordIn?: (delivery: Delivery) => Promise<string | undefined>;
};

export type Channel = {
  readonly name: Delivery['channel'];
  /** How this channel shows that a message is recorded. */
  readonly showsRecorded: 'reaction' | 'job sheet';
  readonly start: (intake: Intake) => Promise<void>;
  /** Stops taking deliveries and waits for what it began. */
  readonly stop: () => Promise<void>;
  /** Posts a card; `key` travels with it where the platform can, so that an unclear failure can be looked up. */
  readonly post: (place: Place, card: Card, key: string) => Promise<PostResult>;
  readonly edit: (posted: Posted, card: Card) => Promise<PostResult>;
  readonly sign: (
    place: Place,
    message: string,
    mark: 'recorded' | 'asked' | 'unrecorded',
  ) => Promise<PostResult>;
  /** Seconds between two posts in one place, where the platform takes no more. */
  readonly paceSeconds?: number;
  /**
   * Uploads a file or picture of a card, behind the card; `key` is the same for every attempt, so that a platform which
   * finishes later is asked about the first one and not given a second. A channel without it shows them in the card.
   */
  readonly upload?: (
    place: Place,
    file: CardFile | CardPicture,
    key: string,
  ) => Promise<PostResult>;
  readonly pin?: (posted: Posted) => Promise<PostResult>;
  /** Looks for a post with this key after an unclear failure. */
  readonly find?: (place: Place, key: string) => Promise<Posted | undefined>;
  /** Where one person is written to directly. */
  readonly direct?: (team: string, person: string) => Place;
  /** What the platform calls somebody; undefined where it does not say. */
  readonly nameOf?: (person: string) => Promise<string | undefined>;
  /** Fetches an attachment's bytes. */
  readonly fetch?: (from: string, limit: number) => Promise<Uint8Array>;
};
