// How far the workspace was read, kept across restarts: where to begin reading what was missed.
import { parseJson, payload, textAt } from './json.ts';
import type { SlackLog } from './slack-log.ts';

export type Marks = {
  readonly mark: (name: string) => Promise<string | undefined>;
  readonly setMark: (name: string, value: string) => Promise<void>;
};

export type Seen = { readonly ts: string; readonly places: readonly string[] };

export type SeenMark = {
  readonly load: () => Promise<Seen | undefined>;
  /** A delivery was kept. */
  readonly note: (place: string, ts: string | undefined) => void;
  /** Something may have been missed: until it was read the mark on disk stays where it was. */
  readonly hold: () => void;
  readonly release: () => void;
  readonly flush: () => Promise<void>;
};

/** Writing seldom is safe: a mark that lies back only means that a little more is read again and found to be known. */
const SECONDS_BETWEEN = 30;
/** Places that are looked at again, those heard from last. */
const MOST_PLACES = 100;

/** @param clock the time now, ISO */
export const seenMark = (
  name: string,
  marks: Marks,
  clock: () => string,
  log: SlackLog,
): SeenMark => {
  let ts = '';
  let places: string[] = [];
  let held = false;
  let dirty = false;
  let writtenAt = Number.NEGATIVE_INFINITY;
  let writing: Promise<void> = Promise.resolve();

  const write = (): Promise<void> => {
    if (held || !dirty) return writing;
    dirty = false;
    writtenAt = Date.parse(clock());
    const value = JSON.stringify({ ts, places });
    writing = writing
      .then(() => marks.setMark(name, value))
      .catch((error: Error) => {
        dirty = true;
        log('error', 'How far Slack was read could not be kept.', { why: error.message });
      });
    return writing;
  };

  return {
    load: async () => {
      const kept = payload(parseJson((await marks.mark(name)) ?? ''));
      const from = textAt(kept, 'ts');
      if (!from) return undefined;
      const known = Array.isArray(kept?.places)
        ? kept.places.filter((place): place is string => typeof place === 'string')
        : [];
      if (Number(from) > Number(ts || 0)) ts = from;
      places = [...new Set([...known, ...places])];
      return { ts: from, places: known };
    },
    note: (place, at) => {
      if (at && Number(at) > Number(ts || 0)) {
        ts = at;
        dirty = true;
      }
      if (place && places.at(-1) !== place) {
        if (!places.includes(place)) dirty = true;
        places = [...places.filter((other) => other !== place), place].slice(-MOST_PLACES);
      }
      if (Date.parse(clock()) - writtenAt >= SECONDS_BETWEEN * 1000) void write();
    },
    hold: () => {
      held = true;
    },
    release: () => {
      held = false;
    },
    flush: write,
  };
};
