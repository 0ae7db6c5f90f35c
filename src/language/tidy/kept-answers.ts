// Answers that are worth keeping, in two generations: what was asked for lately stays, and the number never grows.

/** At most so many answers in each generation; a word is at most 40 letters long, so this is some hundred kilobytes. */
const AT_MOST = 1500;

export type KeptAnswers<T> = {
  readonly get: (word: string) => T | undefined;
  readonly keep: (word: string, answer: T) => void;
};

/**
 * A bounded store of answers that depend on nothing but the word. What is kept changes how fast an answer is given and
 * never which.
 */
export function keepAnswers<T>(atMost = AT_MOST): KeptAnswers<T> {
  let young = new Map<string, T>();
  let old = new Map<string, T>();
  const keep = (word: string, answer: T) => {
    if (young.size >= atMost) {
      old = young;
      young = new Map();
    }
    young.set(word, answer);
  };
  return {
    keep,
    get: (word) => {
      const have = young.get(word);
      if (have !== undefined) return have;
      const before = old.size > 0 ? old.get(word) : undefined;
      if (before !== undefined) keep(word, before);
      return before;
    },
  };
}
