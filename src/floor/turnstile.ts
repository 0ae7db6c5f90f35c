// Deciding about a message takes the processor for itself. Between two decisions the platforms get their turn, so that a
// delivery which arrives meanwhile is kept and acknowledged first.

export type Turnstile = {
  /** Resolves when it is one's turn to decide: one at a time, and never two without a look at what has arrived. */
  readonly pass: () => Promise<void>;
  /** A delivery is being kept: decisions wait until it is, or for a few turns at most. */
  readonly arriving: <T>(work: () => Promise<T>) => Promise<T>;
};

/** Turns of the event loop that decisions wait at most for deliveries that are being kept. */
const MOST_TURNS = 40;

const nextTurn = (): Promise<void> => new Promise((done) => setImmediate(done));

export const turnstile = (): Turnstile => {
  let line: Promise<void> = Promise.resolve();
  let arriving = 0;
  const step = async (): Promise<void> => {
    await nextTurn();
    for (let turns = 0; arriving > 0 && turns < MOST_TURNS; turns += 1) await nextTurn();
  };
  return {
    pass: () => {
      line = line.then(step);
      return line;
    },
    arriving: async (work) => {
      arriving += 1;
      try {
        return await work();
      } finally {
        arriving -= 1;
      }
    },
  };
};
