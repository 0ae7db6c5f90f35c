// One piece of work at a time for each job; different jobs go on side by side.

export type JobQueues = {
  readonly run: <T>(job: string, work: () => Promise<T>) => Promise<T>;
  readonly busy: (job: string) => boolean;
  /** Resolves once all that was begun is done. */
  readonly idle: () => Promise<void>;
};

export function jobQueues(): JobQueues {
  const last = new Map<string, Promise<unknown>>();
  return {
    run: (job, work) => {
      const before = last.get(job) ?? Promise.resolve();
      // What went wrong before is its own caller's matter and stops nobody behind.
      const result = before.then(work, work);
      const settled = result
        .catch(() => undefined)
        .finally(() => {
          if (last.get(job) === settled) last.delete(job);
        });
      last.set(job, settled);
      return result;
    },
    busy: (job) => last.has(job),
    idle: async () => {
      while (last.size > 0) await Promise.all(last.values());
    },
  };
}
