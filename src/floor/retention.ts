// The retention rule: the words of messages go some days after their job is over; facts, names and the chain stay.
import type { JobEvent } from '../../shared/event.ts';
import type { Schedule } from '../schedule/timers.ts';
import type { IndexEntry, JobStore } from '../store/job-store.ts';
import type { Log } from './trail.ts';

const MARK = 'texts-removed-until';
const DAY = 24 * 3600_000;

/** What the rule needs of the store. */
export type RetentionStore = Pick<JobStore, 'list' | 'mark' | 'setMark'> & {
  readonly removeTexts: (
    job: string,
    which: (event: JobEvent, path: string, text: string) => boolean,
  ) => Promise<number>;
};

/** Words that people typed into messages; what was made of them, reasons and findings are facts of the record. */
export const isMessageText = (event: JobEvent, path: string): boolean =>
  path === 'text'
    ? event.kind === 'message-posted' || event.kind === 'message-edited'
    : path.endsWith('.was');

/** The time before which a job has to be over, ISO. @param now ISO */
export const limitOf = (now: string, days: number): string =>
  new Date(Date.parse(now) - days * DAY).toISOString();

const overSince = (entry: IndexEntry): number =>
  entry.status === 'open' ? Number.POSITIVE_INFINITY : Date.parse(entry.closedAt ?? entry.openedAt);

/** Roots of the threads on the bench of jobs that were not over before a time. */
export const threadsToKeep = (entries: readonly IndexEntry[], limit: string): ReadonlySet<string> =>
  new Set(
    entries
      .filter(
        ({ status, closedAt }) =>
          status === 'open' || Date.parse(closedAt ?? '') >= Date.parse(limit),
      )
      .flatMap(({ threads }) =>
        threads.filter(({ channel }) => channel === 'bench').map(({ thread }) => thread),
      ),
  );

export type Removed = { readonly jobs: number; readonly events: number };

/**
 * Removes the words of jobs that are over for so many days.
 * @param again looks at all of them, not only at those over since the last time
 * @param failed told of a job that could not be changed; the others go on
 */
export const removeOldTexts = async (
  store: RetentionStore,
  days: number,
  now: string,
  failed: (job: string, error: Error) => void,
  again = false,
): Promise<Removed> => {
  const limit = Date.parse(limitOf(now, days));
  const done = again ? 0 : Date.parse((await store.mark(MARK)) ?? '') || 0;
  let [jobs, events] = [0, 0];
  let all = true;
  for (const entry of await store.list()) {
    const over = overSince(entry);
    if (over >= limit || over < done || entry.job.startsWith('_')) continue;
    try {
      const removed = await store.removeTexts(entry.job, isMessageText);
      events += removed;
      if (removed > 0) jobs += 1;
    } catch (error) {
      all = false;
      failed(entry.job, error as Error);
    }
  }
  if (all && limit > done) await store.setMark(MARK, new Date(limit).toISOString());
  return { jobs, events };
};

/** The retention rule of the settings: at the start, and once a day while it runs. */
export const retentionRule = (
  days: number | undefined,
  parts: {
    readonly store: RetentionStore;
    readonly schedule: Schedule;
    readonly clock: () => string;
    readonly log: Log;
    /** A job was changed on the disk. */
    readonly forget: (job: string) => void;
    /** Takes the words from before a time out of the talk of the bench, but for the threads kept; lines changed. */
    readonly talk?: (before: string, kept: ReadonlySet<string>) => Promise<number>;
  },
): void => {
  if (days === undefined) return;
  const { store, schedule, clock, log, forget, talk } = parts;
  const changed: RetentionStore = {
    ...store,
    removeTexts: async (job, which) => {
      const count = await store.removeTexts(job, which);
      if (count > 0) forget(job);
      return count;
    },
  };
  const run = (): void =>
    void removeOldTexts(changed, days, clock(), (job, error) =>
      log('error', 'the words of a job could not be removed', { job, why: error.message }),
    )
      .then((removed) => {
        if (removed.jobs > 0) log('info', 'words were removed by the retention rule', removed);
      })
      .catch((error: Error) => log('error', 'the retention rule failed', { why: error.message }));
  // At the start the talk was gone through before the bench opened it.
  const runTalk = async (): Promise<void> => {
    const limit = limitOf(clock(), days);
    const lines = (await talk?.(limit, threadsToKeep(await store.list(), limit))) ?? 0;
    if (lines > 0) log('info', 'words were removed from the talk of the bench', { lines });
  };
  schedule.every('retention', DAY, () => {
    run();
    runTalk().catch((error: Error) =>
      log('error', 'the words of the talk could not be removed', { why: error.message }),
    );
  });
  run();
};
