// When a post may be tried: a platform that does not answer is asked by one post at a time, further and further apart,
// however many are waiting; what it refuses or wants slower holds up only its own.
import type { PostFailure } from '../chat/channel.ts';
import type { OutboxEntry } from '../store/job-store.ts';

/** Seconds between two tries, at most: of a post that is refused, of one job's posts, of a platform that is away. */
const REFUSED_MOST_SECONDS = 300;
const LANE_MOST_SECONDS = 120;
const PLATFORM_MOST_SECONDS = 60;
/** So many failures one after the other are an outage of the platform, not of one post. */
const OUTAGE = 3;

export type Pace = {
  /** Milliseconds since 1970 before which the entry is not tried. */
  readonly readyAt: (entry: OutboxEntry) => number;
  /** Takes in a failure; gives back the seconds until the entry is tried again. */
  readonly failed: (entry: OutboxEntry, failure: PostFailure, tries: number) => number;
  /** Something came through: an outage of the channel is over, and what waited for it goes at once. */
  readonly cameThrough: (entry: OutboxEntry) => void;
  /** Puts off everything of the entry's job on its channel. */
  readonly putOff: (entry: OutboxEntry, seconds: number) => void;
  readonly forget: (entry: OutboxEntry) => void;
};

/** The posts of one job on one channel. */
export const postLane = (entry: Pick<OutboxEntry, 'job' | 'channel'>): string =>
  `${entry.channel}|${entry.job}`;
/** Cards and signs are counted apart by platforms: one that is asked to wait does not hold up the other. */
const sortOf = (entry: OutboxEntry): string =>
  `${entry.channel}|${entry.post.sign ? 'sign' : 'card'}`;

/** @param clock ISO time now */
export const outboxPace = (clock: () => string): Pace => {
  /** Job and channel, entry, or kind of post, to the time before which it is not tried. */
  const lanes = new Map<string, number>();
  const entries = new Map<string, number>();
  const sorts = new Map<string, number>();
  /** A channel that does not answer: how often in a row, until when, and the jobs put off because of it. */
  const away = new Map<
    string,
    { readonly inRow: number; readonly until: number; readonly lanes: readonly string[] }
  >();
  const after = (seconds: number): number => Date.parse(clock()) + seconds * 1000;
  return {
    readyAt: (entry) =>
      Math.max(
        lanes.get(postLane(entry)) ?? 0,
        entries.get(entry.id) ?? 0,
        sorts.get(sortOf(entry)) ?? 0,
        away.get(entry.channel)?.until ?? 0,
      ),
    failed: (entry, failure, tries) => {
      if (failure.kind === 'wait') {
        sorts.set(sortOf(entry), after(failure.seconds));
        return failure.seconds;
      }
      // What is refused holds up nothing else; what waits for the platform keeps the order of its job.
      if (failure.kind === 'refused') {
        const seconds = Math.min(REFUSED_MOST_SECONDS, 2 ** Math.min(tries, 9));
        entries.set(entry.id, after(seconds));
        return seconds;
      }
      // Longer than the platform's own pause, so that the next to be tried is a post of another job.
      const seconds = Math.min(LANE_MOST_SECONDS, 2 ** Math.min(tries + 1, 9));
      lanes.set(postLane(entry), after(seconds));
      const before = away.get(entry.channel);
      const inRow = (before?.inRow ?? 0) + 1;
      const pause = Math.min(PLATFORM_MOST_SECONDS, 2 ** Math.min(inRow, 6));
      away.set(entry.channel, {
        inRow,
        until: after(pause),
        lanes: [...new Set([...(before?.lanes ?? []), postLane(entry)])],
      });
      return seconds;
    },
    cameThrough: (entry) => {
      const was = away.get(entry.channel);
      away.delete(entry.channel);
      if (was !== undefined && was.inRow >= OUTAGE)
        for (const lane of was.lanes) lanes.delete(lane);
    },
    putOff: (entry, seconds) => void lanes.set(postLane(entry), after(seconds)),
    forget: (entry) => void entries.delete(entry.id),
  };
};
