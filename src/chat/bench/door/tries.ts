// Wrong codes are counted: for each key (an address, a name) and over all. Too many close the door for a while, whichever
// process it is tried at.
import { z } from 'zod';
import { changePaper, type Papers } from '../../change-paper.ts';

export type Tries = {
  /**
   * Counts a try as a wrong one before its code is looked at, so that many at once are no more than one after the other.
   * @param inAll whether it also counts over all keys together
   * @returns until when none is taken, in milliseconds since 1970; nothing is counted then. Undefined where it may go on
   */
  readonly take: (key: string, inAll: boolean, nowMs: number) => Promise<number | undefined>;
  /** The code was the right one: what was counted for its key counts no more. */
  readonly right: (key: string, nowMs: number) => Promise<void>;
};

export const TRIES_EACH = 5;
export const TRIES_IN_ALL = 50;
const CLOSED_MS = 15 * 60_000;
/** Keys remembered at once; the oldest are forgotten first, and the count over all still holds. */
const KEYS = 10_000;

const PAPER = 'tries';

const Kept = z.strictObject({
  /** By key, the one that was tried last at the end. */
  wrongs: z.array(z.tuple([z.string(), z.array(z.number())])),
  all: z.array(z.number()),
});
type Kept = z.infer<typeof Kept>;

const readKept = (text: string | undefined): Kept => {
  const read = text === undefined ? undefined : Kept.safeParse(JSON.parse(text));
  return read?.success ? read.data : { wrongs: [], all: [] };
};

/** What wrong own codes of a person are counted under. */
export const ownCodeKey = (person: string): string => `own ${person}`;

const closedBy = (times: readonly number[], most: number): number | undefined => {
  const last = times.at(-1);
  return times.length >= most && last !== undefined ? last + CLOSED_MS : undefined;
};

/** The same without one of the times; the others stay. */
const without = (times: readonly number[], time: number): number[] => {
  const at = times.lastIndexOf(time);
  return at < 0 ? [...times] : times.toSpliced(at, 1);
};

export function openTries(papers: Papers): Tries {
  return {
    take: (key, inAll, nowMs) =>
      changePaper(papers, PAPER, (text) => {
        const kept = readKept(text);
        const isLate = (time: number) => nowMs - time < CLOSED_MS;
        const wrongs = new Map(
          kept.wrongs
            .map(([name, times]) => [name, times.filter(isLate)] as const)
            .filter(([, times]) => times.length > 0),
        );
        const all = kept.all.filter(isLate);
        const own = wrongs.get(key) ?? [];
        const closed =
          closedBy(own, TRIES_EACH) ?? (inAll ? closedBy(all, TRIES_IN_ALL) : undefined);
        if (closed !== undefined) return [undefined, closed];
        wrongs.delete(key);
        const next = [...wrongs, [key, [...own, nowMs]] as const].slice(-KEYS);
        return [JSON.stringify({ wrongs: next, all: [...all, nowMs] }), undefined];
      }),
    right: (key, nowMs) =>
      changePaper(papers, PAPER, (text) => {
        const kept = readKept(text);
        return [
          JSON.stringify({
            wrongs: kept.wrongs.filter(([name]) => name !== key),
            all: without(kept.all, nowMs),
          }),
          undefined,
        ];
      }),
  };
}

/** Takes the counts of a person's own code away. */
export const removePersonFromTries = (papers: Papers, names: readonly string[]): Promise<void> =>
  changePaper(papers, PAPER, (text) => {
    if (text === undefined) return [undefined, undefined];
    const kept = readKept(text);
    const theirs = new Set(names.map(ownCodeKey));
    const wrongs = kept.wrongs.filter(([name]) => !theirs.has(name));
    return [JSON.stringify({ ...kept, wrongs }), undefined];
  });
