// Deciding about a message takes the processor for itself. Between two decisions the platforms get their turn, so that a
// delivery which arrived meanwhile is kept and acknowledged first.

export type Turnstile = {
  /** Resolves when it is one's turn to decide: one at a time, and never two without a look at what has arrived. */
  readonly pass: () => Promise<void>;
  /** A delivery is being kept: decisions wait until it is, or for a moment at most. */
  readonly arriving: <T>(work: () => Promise<T>) => Promise<T>;
};

/** Turns of the event loop in which a request that waits in its socket comes as far as being kept. */
const LOOKS = 4;
/** Deliveries that may go before one decision; more would let a flood stop all work. */
const MOST_BEFORE = 8;
/** Milliseconds that a decision waits for a disk at most. */
const MOST_MS = 200;

const nextTurn = (): Promise<void> => new Promise((done) => setImmediate(done));

export const turnstile = (): Turnstile => {
  let line: Promise<void> = Promise.resolve();
  const arriving = new Set<Promise<unknown>>();

  const kept = async (): Promise<void> => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const late = new Promise<void>((done) => {
      timer = setTimeout(done, MOST_MS);
    });
    await Promise.race([Promise.race(arriving), late]);
    clearTimeout(timer);
  };

  const step = async (): Promise<void> => {
    let before = 0;
    for (let looks = 0; looks < LOOKS; looks += 1) {
      await nextTurn();
      if (arriving.size === 0 || before >= MOST_BEFORE) continue;
      before += 1;
      looks = 0;
      await kept();
    }
  };

  return {
    pass: () => {
      line = line.then(step);
      return line;
    },
    arriving: async (work) => {
      const mine = work();
      const ended = mine.then(
        () => undefined,
        () => undefined,
      );
      arriving.add(ended);
      void ended.then(() => arriving.delete(ended));
      return mine;
    },
  };
};
