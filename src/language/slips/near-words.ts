// How many slips of the thumb lie between two words.

/**
 * Letters dropped, added, changed or swapped with their neighbour between two words.
 *
 * @param most the count beyond which it does not matter how many
 * @returns the count, or `most + 1` where it is more
 */
export function slipsBetween(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, k) => k);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    let least = i;
    for (let k = 1; k <= b.length; k += 1) {
      const same = a[i - 1] === b[k - 1];
      let cost = Math.min(
        (last[k] ?? 0) + 1,
        (row[k - 1] ?? 0) + 1,
        (last[k - 1] ?? 0) + (same ? 0 : 1),
      );
      const swapped = i > 1 && k > 1 && a[i - 1] === b[k - 2] && a[i - 2] === b[k - 1];
      if (swapped) cost = Math.min(cost, (before[k - 2] ?? 0) + 1);
      row.push(cost);
      if (cost < least) least = cost;
    }
    if (least > most) return most + 1;
    before = last;
    last = row;
  }
  return Math.min(last[b.length] ?? most + 1, most + 1);
}

/** So many slips a word of this length may have and still be taken for another: one, from six letters two. */
export const slipsFor = (word: string): number => (word.length < 6 ? 1 : 2);
