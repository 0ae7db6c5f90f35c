// One queue for each job: what concerns a job happens in order, what concerns different jobs side by side.

export type Queues = {
  /** Runs when everything put under the same key before has ended; a failure does not stop what follows. */
  readonly run: <T>(key: string, task: () => Promise<T>) => Promise<T>;
  /** Resolves when nothing is running or waiting. */
  readonly idle: () => Promise<void>;
};

export const queues = (): Queues => {
  const tails = new Map<string, Promise<unknown>>();
  return {
    run: (key, task) => {
      const before = tails.get(key) ?? Promise.resolve();
      const mine = before.then(task, task);
      const tail = mine.then(
        () => undefined,
        () => undefined,
      );
      tails.set(key, tail);
      void tail.then(() => {
        if (tails.get(key) === tail) tails.delete(key);
      });
      return mine;
    },
    idle: async () => {
      while (tails.size > 0) await Promise.all(tails.values());
    },
  };
};
