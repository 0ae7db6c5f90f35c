/**
 * Characters that are taken for one another on a dirty label or a worn stamping.
 * Common practice, no source; ISO 3779 leaves I, O and Q out of vehicle numbers for this reason.
 */

/** Each group holds characters that pass for each other. */
const GROUPS = ['0OQD', '1IL', '8B', '5S', '2Z', '6G'] as const;

/** The other characters that one could be taken for, likeliest first; none for most. Capital letters in and out. */
export function looksLike(character: string): readonly string[] {
  const upper = character.toUpperCase();
  return GROUPS.filter((group) => group.includes(upper)).flatMap((group) =>
    [...group].filter((other) => other !== upper),
  );
}

/** Whether two characters are different but pass for each other. */
export function alike(a: string, b: string): boolean {
  return looksLike(a).includes(b.toUpperCase());
}

export type CodeDifference = {
  /** Counted from 1. */
  readonly place: number;
  readonly first: string;
  readonly second: string;
  readonly lookAlike: boolean;
};

export type CodeComparison = {
  readonly same: boolean;
  readonly differences: readonly CodeDifference[];
  /** Every difference is between characters that pass for each other. */
  readonly onlyLookAlikes: boolean;
  readonly answer: string;
};

/** Capitals, without the spaces, hyphens and dots that people add for reading. */
export function bareCode(text: string): string {
  return text.toUpperCase().replace(/[\s.\u2010-\u2015\u2212-]/gu, '');
}

/**
 * Two readings of one code side by side: the code on the label against the code in the control unit.
 * Spaces, hyphens, dots and small letters make no difference.
 */
export function compareCodes(first: string, second: string): CodeComparison {
  const a = [...bareCode(first)];
  const b = [...bareCode(second)];
  const differences = Array.from({ length: Math.max(a.length, b.length) }, (_, index) => ({
    place: index + 1,
    first: a[index] ?? '',
    second: b[index] ?? '',
    lookAlike: alike(a[index] ?? '', b[index] ?? ''),
  })).filter((difference) => difference.first !== difference.second);
  const sameLength = a.length === b.length;
  const onlyLookAlikes = differences.length > 0 && differences.every((d) => d.lookAlike);
  return {
    same: differences.length === 0,
    differences,
    onlyLookAlikes,
    answer: sayComparison(a.join(''), b.join(''), differences, onlyLookAlikes, sameLength),
  };
}

function sayComparison(
  a: string,
  b: string,
  differences: readonly CodeDifference[],
  onlyLookAlikes: boolean,
  sameLength: boolean,
): string {
  if (differences.length === 0) return `Same code: ${a}.`;
  if (!sameLength) {
    return `Not the same: ${a} has ${[...a].length} characters, ${b} has ${[...b].length}. Read both again.`;
  }
  const list = differences.map((d) => `place ${d.place} ${d.first} or ${d.second}`).join(', ');
  const ending = onlyLookAlikes
    ? 'These pass for each other: look at the label again, and at the entry'
    : 'Compare the label and the entry again before starting';
  return `Not the same: ${list}. ${ending}.`;
}
