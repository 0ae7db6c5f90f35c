// One slip of the thumb: a letter dropped, doubled, changed or swapped with its neighbour.

/** Whether two words differ by exactly one such slip. The first letter must be right: in 95 % of slips it is. */
export function oneEdit(a: string, b: string): boolean {
  if (a === b || a[0] !== b[0] || Math.abs(a.length - b.length) > 1) return false;
  let i = 0;
  while (i < a.length && i < b.length && a[i] === b[i]) i += 1;
  const restA = a.slice(i);
  const restB = b.slice(i);
  if (a.length === b.length) {
    if (restA.slice(1) === restB.slice(1)) return true;
    return restA[0] === restB[1] && restA[1] === restB[0] && restA.slice(2) === restB.slice(2);
  }
  return a.length > b.length ? restA.slice(1) === restB : restA === restB.slice(1);
}

/** One slip at any letter, the first one too; two in a word of seven letters or more. */
export function slipOf(word: string, meant: string): boolean {
  if (word === meant) return false;
  const pad = (text: string) => `.${text}`;
  if (oneEdit(pad(word), pad(meant))) return true;
  if (meant.length < 5 || Math.abs(word.length - meant.length) > 2) return false;
  // Two slips: some letter left out of each makes them one slip apart.
  for (let i = 0; i < word.length; i += 1) {
    const shorter = pad(word.slice(0, i) + word.slice(i + 1));
    if (shorter === pad(meant) || (meant.length >= 6 && oneEdit(shorter, pad(meant)))) return true;
  }
  return false;
}
