/**
 * The form of a component code, as a plan writes it, and whether a code that was typed has that form.
 *
 * In a pattern `A` is a letter, `9` a digit, `X` a letter or digit, `H` a hexadecimal digit. `{4}` after one of them
 * repeats it. What stands in quotes must be there as written. Spaces between are only for reading.
 * Example: `'C' 9{6} A H{2}`.
 *
 * A form may also leave characters out of its alphabet (many labels have no I and no O), and end in a check
 * character of an open standard; the check is counted in the pattern and taken over all places, quoted ones too.
 */
import {
  CHECK_SYSTEMS,
  type CheckSystem,
  checkCharacters,
  checkFor,
  checkLength,
  checkSystemNamed,
  verifyCheck,
} from './check-character.ts';
import { bareCode, looksLike } from './look-alike.ts';
import { found, type Result, refused } from './result.ts';

type PlaceKind =
  | 'letter'
  | 'digit'
  | 'letter or digit'
  | 'hex digit'
  | 'as written'
  | 'check character';
/** One character of the code: what it is called, and which characters may stand there. */
export type Place = { readonly kind: PlaceKind; readonly allowed: string };

export type CodeForm = {
  readonly pattern: string;
  readonly places: readonly Place[];
  readonly check?: CheckSystem;
  /** The form in plain words, for reading a plan back. */
  readonly says: string;
};

const DIGITS = '0123456789';
const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';
const CLASSES: Readonly<Record<string, Place>> = {
  A: { kind: 'letter', allowed: LETTERS },
  '9': { kind: 'digit', allowed: DIGITS },
  X: { kind: 'letter or digit', allowed: LETTERS + DIGITS },
  H: { kind: 'hex digit', allowed: `${DIGITS}ABCDEF` },
};

/** A code longer than this is a mistyped repeat, not a label. */
const LONGEST = 64;

/**
 * Reads a form from a plan.
 *
 * Errors: a character that means nothing outside quotes; a quote left open; a repeat of nothing, or beyond 64 places;
 * an alphabet that leaves a place without any character; a check system that is not known or does not fit.
 */
export function codeForm(given: {
  readonly pattern: string;
  /** The only letters and digits used, where the label does not use all. */
  readonly alphabet?: string;
  readonly check?: string;
}): Result<CodeForm> {
  const { pattern, alphabet, check } = given;
  const places: Place[] = [];
  const token = /\s+|'([^']*)'|"([^"]*)"|([A9XH])(?:\{(\d{1,3})\})?/gy;
  while (token.lastIndex < pattern.length) {
    const at = token.lastIndex;
    const match = token.exec(pattern);
    if (!match) {
      const open = /['"]/.test(pattern.charAt(at));
      return refused(
        open
          ? `The quote at place ${at + 1} of "${pattern}" is not closed.`
          : `"${pattern.charAt(at)}" at place ${at + 1} of "${pattern}" means nothing in a code form.`,
        open
          ? 'Put the same quote after the fixed characters.'
          : "Use A letter, 9 digit, X letter or digit, H hex digit, {4} to repeat, and quotes for fixed characters: 'C' 9{6}.",
      );
    }
    const quoted = match[1] ?? match[2];
    if (quoted !== undefined) {
      for (const c of bareCode(quoted)) places.push({ kind: 'as written', allowed: c });
    }
    const place = CLASSES[match[3] ?? ''];
    const times = Number(match[4] ?? 1);
    if (place && (times < 1 || times > LONGEST)) {
      return refused(
        `${match[0]} repeats a place ${times} times.`,
        `Repeat it 1 to ${LONGEST} times.`,
      );
    }
    if (place) for (let n = 0; n < times; n += 1) places.push(narrow(place, alphabet));
  }
  if (places.length === 0 || places.length > LONGEST) {
    return refused(
      `The form "${pattern}" has ${places.length} places.`,
      `Write a form of 1 to ${LONGEST} places, for example A9{5}.`,
    );
  }
  const empty = places.findIndex((place) => place.allowed === '');
  if (empty >= 0) {
    return refused(
      `The alphabet leaves nothing for place ${empty + 1}, a ${places[empty]?.kind}.`,
      'Add to the alphabet, or change the pattern.',
    );
  }
  if (check === undefined) return found({ pattern, places, says: inWords(places) });
  const system = checkSystemNamed(check);
  if (system === undefined) {
    return refused(
      `"${check}" is no check that is known.`,
      `Use one of ${CHECK_SYSTEMS.join(', ')}.`,
    );
  }
  const checked = withCheck(places, system);
  if (!checked.ok) return checked;
  const says = `${inWords(checked.value)} by ${system}`;
  return found({ pattern, places: checked.value, check: system, says });
}

export type CodeReading = { readonly code: string; readonly answer: string };

/**
 * Whether a typed code has the form. Spaces, hyphens, dots and small letters make no difference.
 *
 * Errors: too many or too few characters; the first place that does not fit, with the character that was probably
 * meant; a check that fails.
 */
export function readCode(form: CodeForm, text: string): Result<CodeReading> {
  const code = bareCode(text);
  const characters = [...code];
  const { places } = form;
  if (characters.length !== places.length) {
    const by = characters.length - places.length;
    return refused(
      `${code || 'An empty code'} has ${characters.length} characters, ${Math.abs(by)} too ${by > 0 ? 'many' : 'few'}; the form is ${form.says}.`,
      'Read the code from the label again.',
    );
  }
  for (const [index, place] of places.entries()) {
    const character = characters[index] ?? '';
    if (place.allowed.includes(character)) continue;
    const meant = looksLike(character).find((other) => place.allowed.includes(other));
    const wanted = place.kind === 'as written' ? place.allowed : `a ${place.kind}`;
    const used = CLASS_OF[place.kind].includes(character);
    return refused(
      used
        ? `Place ${index + 1} of ${code} is ${character}, which this label does not use.`
        : `Place ${index + 1} of ${code} is ${character}, where the form has ${wanted}.`,
      meant ? `Look again: ${meant} may be meant.` : 'Read that place from the label again.',
    );
  }
  if (form.check === undefined) {
    return found({
      code,
      answer: `${code} has the form ${form.says}. The form shows no misread character by itself.`,
    });
  }
  const verdict = verifyCheck(code, form.check);
  if (!verdict.ok) return verdict;
  if (!verdict.value.holds) {
    return refused(
      `The check of ${code} fails: it ends in ${verdict.value.given}, the rest calls for ${verdict.value.expected}.`,
      'At least one character is misread: read the label again.',
    );
  }
  return found({ code, answer: `${code} has the form ${form.says}, and its check holds.` });
}

const CLASS_OF: Readonly<Record<PlaceKind, string>> = {
  letter: LETTERS,
  digit: DIGITS,
  'letter or digit': LETTERS + DIGITS,
  'hex digit': `${DIGITS}ABCDEF`,
  'as written': '',
  'check character': '',
};

function narrow(place: Place, alphabet: string | undefined): Place {
  if (alphabet === undefined) return place;
  const used = alphabet.toUpperCase();
  return { kind: place.kind, allowed: [...place.allowed].filter((c) => used.includes(c)).join('') };
}

/** The last places take whatever the check can be, `X` of mod 11-2 and `*` of mod 37-2 included. */
function withCheck(places: readonly Place[], system: CheckSystem): Result<readonly Place[]> {
  const from = places.length - checkLength(system);
  const body = places.slice(0, Math.max(0, from));
  if (body.length === 0) {
    return refused(
      `The form has no place left before its check by ${system}.`,
      'Write the whole code in the pattern, the check at its end.',
    );
  }
  if (places.slice(from).some((place) => !['digit', 'letter or digit'].includes(place.kind))) {
    return refused(
      `The check by ${system} is not the end of the pattern.`,
      'End the pattern in 9 or X for each check character.',
    );
  }
  const decimalOnly = !checkFor('A', system).ok;
  const unfit = body.findIndex(
    ({ allowed }) => !(decimalOnly ? /^\d+$/ : /^[A-Z\d]+$/).test(allowed),
  );
  if (unfit >= 0) {
    return refused(
      `Place ${unfit + 1} of the form may be a character that ${system} has no value for.`,
      decimalOnly ? `Use digits only, or mod 37-2 or mod 37,36.` : 'Use letters and digits only.',
    );
  }
  const check: Place = { kind: 'check character', allowed: checkCharacters(system) };
  return found([...body, ...places.slice(from).map(() => check)]);
}

function inWords(places: readonly Place[]): string {
  const runs: { kind: PlaceKind; text: string; count: number }[] = [];
  for (const { kind, allowed } of places) {
    const last = runs.at(-1);
    if (last && last.kind === kind) {
      last.count += 1;
      last.text += allowed;
    } else {
      runs.push({ kind, text: allowed, count: 1 });
    }
  }
  const many = (kind: PlaceKind) =>
    kind === 'letter or digit'
      ? 'letters or digits'
      : kind === 'hex digit'
        ? 'hex digits'
        : `${kind}s`;
  return runs
    .map(({ kind, text, count }) =>
      kind === 'as written' ? `"${text}"` : `${count} ${count === 1 ? kind : many(kind)}`,
    )
    .join(', ');
}
