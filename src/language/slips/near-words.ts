// How many slips of the thumb lie between two words.
import { letterBits } from '../tidy/edits.ts';

/**
 * Letters dropped, added, changed or swapped with their neighbour between two words.
 *
 * @param most the count beyond which it does not matter how many
 * @returns the count, or `most + 1` where it is more
 */
export function slipsBetween(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most || strangeLetters(a, b) > most) return most + 1;
  const width = b.length + 1;
  // Three rows of the table of distances, each used anew in its turn.
  const rows = new Uint16Array(3 * width);
  for (let k = 0; k < width; k += 1) rows[k] = k;
  for (let i = 1; i <= a.length; i += 1) {
    const row = (i % 3) * width;
    const last = ((i + 2) % 3) * width;
    const before = ((i + 1) % 3) * width;
    const letter = a.charCodeAt(i - 1);
    rows[row] = i;
    let least = i;
    for (let k = 1; k < width; k += 1) {
      const other = b.charCodeAt(k - 1);
      let cost = Math.min(
        at(rows, last + k) + 1,
        at(rows, row + k - 1) + 1,
        at(rows, last + k - 1) + (letter === other ? 0 : 1),
      );
      if (i > 1 && k > 1 && letter === b.charCodeAt(k - 2) && a.charCodeAt(i - 2) === other)
        cost = Math.min(cost, at(rows, before + k - 2) + 1);
      rows[row + k] = cost;
      if (cost < least) least = cost;
    }
    if (least > most) return most + 1;
  }
  return Math.min(at(rows, (a.length % 3) * width + b.length), most + 1);
}

const at = (rows: Uint16Array, k: number): number => rows[k] ?? 0;

/** At least so many letters of either word are none of the other: no fewer slips can lie between them. */
function strangeLetters(a: string, b: string): number {
  const [inA, inB] = [letterBits(a), letterBits(b)];
  return Math.max(countOf(inA & ~inB), countOf(inB & ~inA));
}

function countOf(bits: number): number {
  let count = 0;
  for (let left = bits; left !== 0; left &= left - 1) count += 1;
  return count;
}

/** So many slips a word of this length may have and still be taken for another: one, from six letters two. */
export const slipsFor = (word: string): number => (word.length < 6 ? 1 : 2);
