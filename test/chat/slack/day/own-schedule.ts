// A schedule of one process of the day: what it planned dies with it, and nothing else does. What it looks for by itself it
// looks for when whoever moves the day says so.
import type { Schedule } from '../../../../src/schedule/timers.ts';

export const ownSchedule = (all: Schedule, life: number) => {
  const keys = new Set<string>();
  let dead = false;
  let look: () => void = () => undefined;
  const name = (key: string): string => `life ${life}:${key}`;
  const stop = (): void => {
    for (const key of keys) all.cancel(name(key));
    keys.clear();
    look = () => undefined;
  };
  return {
    schedule: {
      at: (key: string, when: string, run: () => void) => {
        if (dead) return;
        keys.add(key);
        all.at(name(key), when, run);
      },
      every: (key: string, _milliseconds: number, run: () => void) => {
        if (key === 'crew' && !dead) look = run;
      },
      cancel: (key: string) => {
        keys.delete(key);
        all.cancel(name(key));
      },
      stop,
    } satisfies Schedule,
    look: () => look(),
    die: () => {
      stop();
      dead = true;
    },
  };
};
