// What the bench must not lose, and where it is: in a folder of one process, or on the shelf that several processes share.
// One suite holds both forms to this.
import type { SharedShelf } from '../../../store/shared-shelf.ts';
import type { Arrivals } from '../talk/arrivals.ts';
import type { Conversation } from '../talk/conversation.ts';

/** Small texts that are changed one after the other: passes, codes that were given out, wrong codes that were tried. */
export type Papers = Pick<SharedShelf, 'paper' | 'writePaper'>;

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

/** Tries of one change against those of others; each loser lost to somebody who got on. */
const MOST_TRIES = 60;

/**
 * Changes a paper by a function of its text, again where somebody else was faster.
 * @param make the new text, undefined to leave it, and what to resolve with
 */
export const changePaper = async <T>(
  papers: Papers,
  name: string,
  make: (text: string | undefined) => readonly [string | undefined, T],
): Promise<T> => {
  for (let tries = 1; ; tries += 1) {
    const before = await papers.paper(name);
    const [text, result] = make(before?.text);
    if (text === undefined || text === before?.text) return result;
    if (await papers.writePaper(name, text, before?.rev ?? 0)) return result;
    if (tries >= MOST_TRIES)
      throw new Error(`${name} is changed by others all the time.\nTry it again in a moment.`);
  }
};
