// A clock that stands until it is told to go on, and a schedule that runs on it.
import type { Schedule } from '../../src/schedule/timers.ts';

export type StoppedClock = {
  readonly now: () => string;
  readonly schedule: Schedule;
  /** Whether something is to run later under this key. */
  readonly waitsFor: (key: string) => boolean;
  /** Goes on to a time, running what falls due on the way; `between` waits for what was begun. */
  readonly until: (at: string, between: () => Promise<void>) => Promise<void>;
};

export const stoppedClock = (start: string): StoppedClock => {
  let now = start;
  const due = new Map<string, { readonly when: string; readonly run: () => void }>();
  return {
    now: () => now,
    waitsFor: (key) => due.has(key),
    schedule: {
      at: (key, when, run) => void due.set(key, { when, run }),
      every: () => undefined,
      cancel: (key) => void due.delete(key),
      stop: () => due.clear(),
    },
    until: async (at, between) => {
      for (let steps = 0; steps < 500; steps += 1) {
        const next = [...due]
          .filter(([, { when }]) => Date.parse(when) <= Date.parse(at))
          .sort(([, a], [, b]) => Date.parse(a.when) - Date.parse(b.when))[0];
        if (!next) break;
        const [key, { when, run }] = next;
        due.delete(key);
        if (Date.parse(when) > Date.parse(now)) now = new Date(Date.parse(when)).toISOString();
        run();
        await between();
      }
      if (Date.parse(at) > Date.parse(now)) now = new Date(Date.parse(at)).toISOString();
    },
  };
};
