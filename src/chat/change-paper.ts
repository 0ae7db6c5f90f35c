// One change of a small text that several calls, or several processes, change one after the other.
import type { SharedShelf } from '../store/shared-shelf.ts';

export type Papers = Pick<SharedShelf, 'paper' | 'writePaper'>;

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
