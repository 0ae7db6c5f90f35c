// How fast posts follow each other in one place: a platform that takes one a second is given one a second.

export type Pace = {
  /** Seconds until the next post may go there; 0 when it may go now. */
  readonly wait: (spot: string, seconds: number | undefined) => number;
  readonly used: (spot: string) => void;
};

/** @param clock the time now, ISO 8601 */
export const pace = (clock: () => string): Pace => {
  const last = new Map<string, number>();
  return {
    wait: (spot, seconds) => {
      const used = last.get(spot);
      if (!seconds || used === undefined) return 0;
      const left = used + seconds * 1000 - Date.parse(clock());
      // A clock that was set back never holds a post for longer than the pace itself.
      return left <= 0 ? 0 : Math.min(left / 1000, seconds);
    },
    used: (spot) => {
      last.delete(spot);
      last.set(spot, Date.parse(clock()));
      for (const oldest of last.keys()) {
        if (last.size <= 1_000) break;
        last.delete(oldest);
      }
    },
  };
};
