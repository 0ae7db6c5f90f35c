// The only timers of the program. Everything that must happen at a time is told to one of these.

export type Schedule = {
  /** Runs once at a time (ISO); a later call with the same key replaces it. */
  readonly at: (key: string, when: string, run: () => void) => void;
  /** Runs again and again until stopped. */
  readonly every: (key: string, milliseconds: number, run: () => void) => void;
  readonly cancel: (key: string) => void;
  readonly stop: () => void;
};

/** Longer waits are cut into pieces: setTimeout takes 2^31 - 1 ms at most. */
const LONGEST = 6 * 3600 * 1000;

/** @param clock ISO time now */
export const timers = (clock: () => string): Schedule => {
  const running = new Map<string, { readonly end: () => void }>();
  const cancel = (key: string): void => {
    running.get(key)?.end();
    running.delete(key);
  };
  const at = (key: string, when: string, run: () => void): void => {
    cancel(key);
    const wait = Math.max(0, Date.parse(when) - Date.parse(clock()));
    const timer = setTimeout(
      () => {
        running.delete(key);
        if (wait > LONGEST) at(key, when, run);
        else run();
      },
      Math.min(wait, LONGEST),
    );
    running.set(key, { end: () => clearTimeout(timer) });
  };
  return {
    at,
    every: (key, milliseconds, run) => {
      cancel(key);
      const timer = setInterval(run, milliseconds);
      running.set(key, { end: () => clearInterval(timer) });
    },
    cancel,
    stop: () => {
      for (const key of [...running.keys()]) cancel(key);
    },
  };
};
