// One slip of the thumb: a letter dropped, doubled, changed or swapped with its neighbour. Compared in place, without
// cutting the words up: a word that nobody knows is compared with every word it might have been meant for.

/** A letter of a word of which the letter at `gap` is left out. */
const letterAt = (word: string, gap: number, k: number): number =>
  word.charCodeAt(k < gap ? k : k + 1);

const NO_GAP = 1_000_000;

/** Whether one slip at any place makes `b` of `a` without its letter at `gap`. */
function isOneSlip(a: string, gap: number, b: string): boolean {
  const length = gap === NO_GAP ? a.length : a.length - 1;
  const longer = length - b.length;
  if (longer > 1 || longer < -1) return false;
  let i = 0;
  while (i < length && i < b.length && letterAt(a, gap, i) === b.charCodeAt(i)) i += 1;
  if (longer === 0) {
    if (i === length) return false;
    let k = i + 1;
    while (k < length && letterAt(a, gap, k) === b.charCodeAt(k)) k += 1;
    if (k === length) return true;
    if (letterAt(a, gap, i) !== b.charCodeAt(i + 1) || letterAt(a, gap, i + 1) !== b.charCodeAt(i))
      return false;
    k = i + 2;
    while (k < length && letterAt(a, gap, k) === b.charCodeAt(k)) k += 1;
    return k === length;
  }
  const [inA, inB] = longer > 0 ? [1, 0] : [0, 1];
  const rest = length - inA - i;
  for (let k = 0; k < rest; k += 1)
    if (letterAt(a, gap, i + inA + k) !== b.charCodeAt(i + inB + k)) return false;
  return true;
}

/** Whether two words differ by exactly one such slip. The first letter must be right: in 95 % of slips it is. */
export const oneEdit = (a: string, b: string): boolean =>
  a.charCodeAt(0) === b.charCodeAt(0) && isOneSlip(a, NO_GAP, b);

/** The letters of a word as bits; different letters may share one. */
export function letterBits(word: string): number {
  let bits = 0;
  for (let k = 0; k < word.length; k += 1) bits |= 1 << (word.charCodeAt(k) & 31);
  return bits;
}

/** Whether at most `most` bits are set. */
function atMost(bits: number, most: number): boolean {
  let left = bits;
  for (let k = 0; k < most; k += 1) left &= left - 1;
  return left === 0;
}

/** One slip at any letter, the first one too; two where six letters or more were meant, one of them a letter too many. */
export function slipOf(word: string, meant: string): boolean {
  if (word === meant) return false;
  const longer = word.length - meant.length;
  if (longer > 2 || longer < -2) return false;
  // Two slips bring at most two letters that are not meant, and lose at most one that is.
  const [said, wanted] = [letterBits(word), letterBits(meant)];
  if (!atMost(said & ~wanted, 2) || !atMost(wanted & ~said, 2)) return false;
  if (isOneSlip(word, NO_GAP, meant)) return true;
  if (meant.length < 6) return false;
  // With some letter of it left out they are one slip apart.
  for (let i = 0; i < word.length; i += 1) if (isOneSlip(word, i, meant)) return true;
  return false;
}
