/**
 * Check characters that open standards define. A code that carries one shows most slips of the pen by itself.
 *
 * - `mod 10`: the double-add-double rule of ISO/IEC 7812-1 annex B (Luhn), decimal.
 * - `mod 11-2`, `mod 37-2`, `mod 97-10`: pure systems of ISO/IEC 7064; the sum of value · radix^place, the check
 *   character included, leaves 1 when divided by the modulus. Written from the left: sum = sum · radix + value.
 * - `mod 11,10`, `mod 37,36`: hybrid systems of ISO/IEC 7064, with a step modulo M + 1 between the characters.
 *
 * All find every single wrong character. The pure systems find every swap of neighbours too, the hybrid ones nearly
 * every swap, and `mod 10` every one but 09 for 90.
 */
import { found, type Result, refused } from './result.ts';

const DIGITS = '0123456789';
const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';

type System = {
  /** Characters the code may have before its check. */
  readonly alphabet: string;
  /** Characters the check may have; its length in characters is `checks`. */
  readonly checkAlphabet: string;
  readonly checks: 1 | 2;
  readonly standard: string;
  readonly compute: (values: readonly number[]) => readonly number[];
};

const SYSTEMS = {
  'mod 10': {
    alphabet: DIGITS,
    checkAlphabet: DIGITS,
    checks: 1,
    standard: 'ISO/IEC 7812-1',
    compute: luhn,
  },
  'mod 11-2': {
    alphabet: DIGITS,
    checkAlphabet: `${DIGITS}X`,
    checks: 1,
    standard: 'ISO/IEC 7064',
    compute: (values) => [pure(values, 11, 2)],
  },
  'mod 37-2': {
    alphabet: DIGITS + LETTERS,
    checkAlphabet: `${DIGITS}${LETTERS}*`,
    checks: 1,
    standard: 'ISO/IEC 7064',
    compute: (values) => [pure(values, 37, 2)],
  },
  'mod 97-10': {
    alphabet: DIGITS,
    checkAlphabet: DIGITS,
    checks: 2,
    standard: 'ISO/IEC 7064',
    compute: (values) => {
      const remainder = values.reduce((sum, v) => (sum * 10 + v) % 97, 0);
      const pair = 98 - ((remainder * 100) % 97);
      return [Math.floor(pair / 10), pair % 10];
    },
  },
  'mod 11,10': {
    alphabet: DIGITS,
    checkAlphabet: DIGITS,
    checks: 1,
    standard: 'ISO/IEC 7064',
    compute: (values) => [hybrid(values, 10)],
  },
  'mod 37,36': {
    alphabet: DIGITS + LETTERS,
    checkAlphabet: DIGITS + LETTERS,
    checks: 1,
    standard: 'ISO/IEC 7064',
    compute: (values) => [hybrid(values, 36)],
  },
} as const satisfies Record<string, System>;

/** The systems a plan can name. */
export type CheckSystem = keyof typeof SYSTEMS;
export const CHECK_SYSTEMS = Object.keys(SYSTEMS) as readonly CheckSystem[];

/** Whether a text names one of the systems. */
export function isCheckSystem(text: string): text is CheckSystem {
  return Object.hasOwn(SYSTEMS, text);
}

/** The system a text names, however it is spaced: "mod 37,36", "mod-37-36" (as a plan writes it), "MOD 37/36". */
export function checkSystemNamed(text: string): CheckSystem | undefined {
  const bare = (name: string) => name.toLowerCase().replace(/[\s,/-]+/g, '-');
  return CHECK_SYSTEMS.find((name) => bare(name) === bare(text.trim()));
}

/** How many characters at the end of a code are its check: 2 for `mod 97-10`, else 1. */
export function checkLength(system: CheckSystem): 1 | 2 {
  return SYSTEMS[system].checks;
}

/** The characters that may stand as the check. */
export function checkCharacters(system: CheckSystem): string {
  return SYSTEMS[system].checkAlphabet;
}

/**
 * The check for a code that has none yet, as text of one or two characters.
 * Errors: an empty code; a character that the system has no value for (letters in a decimal system).
 */
export function checkFor(code: string, system: CheckSystem): Result<string> {
  const { alphabet, checkAlphabet, compute, standard }: System = SYSTEMS[system];
  const values = [...code.toUpperCase()].map((character) => alphabet.indexOf(character));
  if (values.length === 0) return refused('The code is empty.', 'Read it from the label again.');
  const wrong = values.indexOf(-1);
  if (wrong >= 0) {
    const allowed = alphabet === DIGITS ? 'digits' : 'letters and digits';
    return refused(
      `"${[...code][wrong]}" at place ${wrong + 1} has no value in ${standard} ${system}, which takes ${allowed}.`,
      'Read that place again.',
    );
  }
  return found(
    compute(values)
      .map((value) => checkAlphabet.charAt(value))
      .join(''),
  );
}

export type CheckVerdict = {
  readonly holds: boolean;
  /** The check the rest of the code calls for. */
  readonly expected: string;
  readonly given: string;
  readonly answer: string;
};

/**
 * Whether the check at the end of a code fits the rest of it.
 * Errors: as {@link checkFor}, and a code too short to have a check.
 */
export function verifyCheck(code: string, system: CheckSystem): Result<CheckVerdict> {
  const { checks, standard }: System = SYSTEMS[system];
  const upper = code.toUpperCase();
  if (upper.length <= checks) {
    return refused(
      `"${code}" is too short to end in a check.`,
      'Read the whole code from the label.',
    );
  }
  const given = upper.slice(-checks);
  const expected = checkFor(upper.slice(0, -checks), system);
  if (!expected.ok) return expected;
  const holds = given === expected.value;
  const answer = holds
    ? `Check holds: ${given}, by ${standard} ${system}.`
    : `Check fails: the code ends in ${given}, the rest calls for ${expected.value}, by ${standard} ${system}. At least one character is misread; read the label again.`;
  return found({ holds, expected: expected.value, given, answer });
}

function mod(value: number, modulus: number): number {
  return ((value % modulus) + modulus) % modulus;
}

function luhn(values: readonly number[]): readonly number[] {
  const sum = values.reduceRight((total, value, index) => {
    const doubled = (values.length - 1 - index) % 2 === 0 ? value * 2 : value;
    return total + (doubled > 9 ? doubled - 9 : doubled);
  }, 0);
  return [mod(-sum, 10)];
}

function pure(values: readonly number[], modulus: number, radix: number): number {
  const sum = values.reduce((total, value) => (total * radix + value) % modulus, 0);
  return mod(1 - sum * radix, modulus);
}

function hybrid(values: readonly number[], modulus: number): number {
  const step = (carry: number) => ((carry === 0 ? modulus : carry) * 2) % (modulus + 1);
  let carry = modulus;
  for (const value of values) carry = step((carry + value) % modulus);
  return mod(1 - carry, modulus);
}
