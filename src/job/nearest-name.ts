/**
 * The known name nearest to one that is not known, for "did you mean". The distance is the optimal string alignment
 * distance: one insertion, deletion, change, or swap of two neighbours counts one.
 * Source: F. J. Damerau, Communications of the ACM 7(3), 1964, p. 171.
 */

/** Longer words are never a slip of the finger for a name of the plan, and cost time. */
const LONGEST = 80;

/** The number of slips of the finger between two words. */
export function slips(a: string, b: string): number {
  let twoBack: number[] = [];
  let oneBack = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min(
        (oneBack[j] ?? 0) + 1,
        (row[j - 1] ?? 0) + 1,
        (oneBack[j - 1] ?? 0) + same,
      );
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) least = Math.min(least, (twoBack[j - 2] ?? 0) + 1);
      row.push(least);
    }
    twoBack = oneBack;
    oneBack = row;
  }
  return oneBack[b.length] ?? 0;
}

const plain = (word: string): string => word.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '');

const wordsOf = (name: string): readonly string[] =>
  name
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word.length > 2);

/**
 * The nearest of `known`, or undefined when none is near: at most one slip for each three characters, or else the one
 * name that shares the most words (`coolant-drain` for `drain-coolant`). The first of `known` wins a tie.
 */
export function nearestName(name: string, known: Iterable<string>): string | undefined {
  const wanted = plain(name);
  if (wanted === '' || name.length > LONGEST) return undefined;
  const all = [...known].filter((other) => other.length <= LONGEST);
  let nearest: string | undefined;
  let least = Math.max(1, Math.floor(wanted.length / 3)) + 1;
  for (const other of all) {
    const spelled = plain(other);
    if (Math.abs(spelled.length - wanted.length) >= least) continue;
    const distance = slips(wanted, spelled);
    if (distance < least) {
      least = distance;
      nearest = other;
    }
  }
  return nearest ?? mostWords(name, all);
}

function mostWords(name: string, known: readonly string[]): string | undefined {
  const wanted = new Set(wordsOf(name));
  let nearest: string | undefined;
  let most = 0;
  for (const other of known) {
    const words = wordsOf(other);
    const shared = words.filter((word) => wanted.has(word)).length;
    const enough = shared * 2 >= Math.max(wanted.size, words.length);
    if (enough && shared > most) {
      most = shared;
      nearest = other;
    }
  }
  return nearest;
}
