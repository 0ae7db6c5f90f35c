/**
 * The vehicle identification number: 17 characters without I, O and Q (ISO 3779), and the check digit in place 9.
 *
 * Each character has a value, each place a weight; the sum of the products divided by 11 leaves the check digit,
 * 10 written X. Source: 49 CFR 565.15(c). Only vehicles of that regulation must carry the digit; elsewhere place 9 is
 * free, so a digit that fails is an error for a number of the North American region (first character 1 to 5) and
 * advice for any other.
 */
import { bareCode, looksLike } from './look-alike.ts';
import { found, type Result, refused } from './result.ts';

const WEIGHTS = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];
const VALUES: ReadonlyMap<string, number> = new Map([
  ...[...'0123456789'].map((c) => [c, Number(c)] as const),
  ...[...'ABCDEFGH'].map((c, index) => [c, index + 1] as const),
  ...[...'JKLMN'].map((c, index) => [c, index + 1] as const),
  ['P', 7],
  ['R', 9],
  ...[...'STUVWXYZ'].map((c, index) => [c, index + 2] as const),
]);
const CHECK_PLACE = 8;

export type VinCheck = {
  readonly vin: string;
  readonly weightedSum: number;
  readonly remainder: number;
  /** What place 9 would have to be. */
  readonly expected: string;
  /** What place 9 is. */
  readonly given: string;
  readonly holds: boolean;
  /** `error` only where 49 CFR 565 applies. */
  readonly level: 'none' | 'advice' | 'error';
  /** Numbers with one look-alike exchanged for which the digit holds; empty when it holds already. */
  readonly suggestions: readonly string[];
  readonly answer: string;
};

/**
 * Checks a vehicle identification number as it was typed; spaces, hyphens, dots and small letters make no difference.
 *
 * Errors: not 17 characters; a character outside the set (I, O and Q come with what was probably meant).
 */
export function checkVin(text: string): Result<VinCheck> {
  const vin = bareCode(text);
  const characters = [...vin];
  if (characters.length !== 17) {
    return refused(
      `A vehicle identification number has 17 characters, this one has ${characters.length}.`,
      'Read it again from the plate or the frame, or give the last six as a fleet reference instead.',
    );
  }
  const outside = characters.findIndex((character) => !VALUES.has(character));
  if (outside >= 0) {
    const character = characters[outside] ?? '';
    const meant = looksLike(character).find((other) => VALUES.has(other));
    return refused(
      `"${character}" at place ${outside + 1} is not used in a vehicle identification number.`,
      meant
        ? `Look again: ${meant} is probably meant.`
        : 'Use letters and digits, without I, O and Q.',
    );
  }
  const weightedSum = vinSum(vin);
  const remainder = weightedSum % 11;
  const expected = checkDigit(vin);
  const given = characters[CHECK_PLACE] ?? '';
  const holds = expected === given;
  const level = holds ? 'none' : /^[1-5]/.test(vin) ? 'error' : 'advice';
  const suggestions = holds ? [] : misreadings(vin);
  const result = {
    vin,
    weightedSum,
    remainder,
    expected,
    given,
    holds,
    level,
    suggestions,
  } as const;
  return found({ ...result, answer: sayVin(result) });
}

/** The check digit that 49 CFR 565.15(c) gives for 17 permitted characters; place 9 itself does not count. */
export function checkDigit(vin: string): string {
  const remainder = vinSum(vin) % 11;
  return remainder === 10 ? 'X' : String(remainder);
}

function vinSum(vin: string): number {
  return [...vin].reduce(
    (sum, character, index) => sum + (VALUES.get(character) ?? 0) * (WEIGHTS[index] ?? 0),
    0,
  );
}

function misreadings(vin: string): readonly string[] {
  const characters = [...vin];
  return characters.flatMap((character, index) =>
    looksLike(character)
      .filter((other) => VALUES.has(other))
      .map((other) => characters.with(index, other).join(''))
      .filter((candidate) => checkDigit(candidate) === candidate.charAt(CHECK_PLACE)),
  );
}

function sayVin(check: Omit<VinCheck, 'answer'>): string {
  const { vin, weightedSum, expected, given, holds, level, suggestions } = check;
  if (holds) {
    return `Check digit ${given} holds for ${vin} (sum ${weightedSum}, 49 CFR 565.15(c)). It shows most slips, not all: compare with the plate.`;
  }
  const places = suggestions.map((other) => {
    const place = [...other].findIndex((character, index) => character !== vin[index]);
    return `place ${place + 1}: ${other[place]} for ${vin[place]}`;
  });
  const look =
    places.length > 0
      ? `It would hold with one look-alike exchanged (${places.join('; ')})`
      : 'No single look-alike explains it';
  const weight =
    level === 'error'
      ? 'A number beginning with 1 to 5 must carry it: read the plate again before ordering parts'
      : 'Outside North America the digit is not required: compare with the plate, and go on if it is the same';
  return `Check digit ${given} does not hold for ${vin}: ${expected} is called for (sum ${weightedSum}, 49 CFR 565.15(c)). ${look}. ${weight}.`;
}
