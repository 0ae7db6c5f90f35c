// Wrong codes are counted: for each key (an address, a name) and over all. Too many close the door for a while.

export type Tries = {
  /** Until when this key may not try, in milliseconds since 1970; undefined where it may. */
  readonly closedUntil: (key: string, nowMs: number) => number | undefined;
  /** The same over all keys together. */
  readonly allClosedUntil: (nowMs: number) => number | undefined;
  readonly wrong: (key: string, nowMs: number) => void;
  readonly right: (key: string) => void;
};

export const TRIES_EACH = 5;
export const TRIES_IN_ALL = 50;
export const CLOSED_MS = 15 * 60_000;
/** Keys remembered at once; the oldest are forgotten first, and the count over all still holds. */
const KEYS = 10_000;

export function openTries(): Tries {
  const wrongs = new Map<string, readonly number[]>();
  let all: readonly number[] = [];
  const lately = (times: readonly number[], nowMs: number) =>
    times.filter((time) => nowMs - time < CLOSED_MS);
  const until = (times: readonly number[], most: number, nowMs: number): number | undefined => {
    const recent = lately(times, nowMs);
    const last = recent.at(-1);
    return recent.length >= most && last !== undefined ? last + CLOSED_MS : undefined;
  };
  return {
    closedUntil: (key, nowMs) => until(wrongs.get(key) ?? [], TRIES_EACH, nowMs),
    allClosedUntil: (nowMs) => until(all, TRIES_IN_ALL, nowMs),
    wrong: (key, nowMs) => {
      const times = [...lately(wrongs.get(key) ?? [], nowMs), nowMs];
      wrongs.delete(key);
      wrongs.set(key, times);
      all = [...lately(all, nowMs), nowMs];
      const [oldest] = wrongs.keys();
      if (wrongs.size > KEYS && oldest !== undefined) wrongs.delete(oldest);
    },
    right: (key) => void wrongs.delete(key),
  };
}
