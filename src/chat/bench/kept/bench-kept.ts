// What the bench must not lose, and where it is: in a folder of one process, or on the shelf that several processes share.
// One suite holds both forms to this.
import type { Papers } from '../../change-paper.ts';
import type { Arrivals } from '../talk/arrivals.ts';
import type { Conversation } from '../talk/conversation.ts';

/** Photos as bytes, under names that were checked. */
export type PhotoBytes = {
  /** Resolves once it is synced; the first bytes under a name stay. */
  readonly keep: (name: string, bytes: Uint8Array) => Promise<void>;
  readonly size: (name: string) => Promise<number | undefined>;
  readonly read: (name: string) => Promise<Uint8Array | undefined>;
};

export type BenchKept = {
  readonly conversation: Conversation;
  readonly arrivals: Arrivals;
  readonly papers: Papers;
  readonly photos: PhotoBytes;
  /** What contacts are signed with: the same for every process that serves the page. */
  readonly secret: Buffer;
  /** Begins to look for what other processes said, and for what they left behind. */
  readonly begin: (takeLeft: () => Promise<void>) => void;
  readonly close: () => Promise<void>;
};
