/**
 * Trouble codes of both families: heavy vehicles (SAE J1939-73: parameter number SPN and failure mode FMI) and light
 * ones (SAE J2012 / ISO 15031-6: a letter, a digit 0 to 3 and three hexadecimal digits, such as P0203).
 */
import { found, type Result, refused } from './result.ts';
import { FAILURE_MODES, PARAMETERS } from './trouble-code-words.ts';

/** The largest parameter number that 19 bits hold. */
export const LARGEST_SPN = 524_287;

export type HeavyCode = {
  readonly family: 'J1939';
  readonly spn: number;
  readonly fmi: number;
  /** How often it occurred, 0 to 126, where it was given. */
  readonly count?: number;
};

export type LightCode = {
  readonly family: 'J2012';
  /** Five characters, capitals. */
  readonly code: string;
  /** Two hexadecimal digits of the failure type, where given. */
  readonly failureType?: string;
};

export type TroubleCode = HeavyCode | LightCode;

/**
 * One code as people type it: "spn 653 fmi 5", "SPN653/FMI05", "653/5", "653-5", "653 fmi 5 x3", "P0203", "p0203-00".
 *
 * Errors: a text of neither form; a parameter number over 524287; a failure mode over 31; a letter O typed for a
 * zero is pointed out, not exchanged.
 */
export function parseTroubleCode(text: string): Result<TroubleCode> {
  const tidy = text.trim().toUpperCase();
  const light = /^([PCBU])[\s-]?([0-3][0-9A-F]{3})(?:\s*[-:/\s]\s*([0-9A-F]{2}))?$/.exec(tidy);
  if (light) {
    const code = `${light[1]}${light[2]}`;
    const failureType = light[3];
    return found({ family: 'J2012', code, ...(failureType !== undefined && { failureType }) });
  }
  const heavy =
    /^(?:SPN\s*[:=]?\s*)?(\d{1,7})\s*(?:[,;/-]|\s)?\s*(?:FMI\s*[:=]?\s*|(?<=[/-]\s*))(\d{1,3})(?:\s*(?:,?\s*(?:OC|COUNT)\s*[:=]?\s*|\s*X\s*)(\d{1,3}))?$/.exec(
      tidy,
    );
  if (heavy) return heavyCode(Number(heavy[1]), Number(heavy[2]), heavy[3]);
  const zeroes = tidy.replace(/O/g, '0');
  if (zeroes !== tidy && parseTroubleCode(zeroes).ok) {
    return refused(
      `"${text.trim()}" has the letter O where a trouble code has a zero.`,
      `Write ${zeroes} if that is the code.`,
    );
  }
  if (/^(SPN\s*[:=]?\s*)?\d{1,7}$/.test(tidy)) {
    return refused(
      `"${text.trim()}" has no failure mode.`,
      'Give both numbers, for example "spn 653 fmi 5" or "653/5".',
    );
  }
  return refused(
    `"${text.trim()}" is not a trouble code of a known form.`,
    'Write it like "spn 653 fmi 5", "653/5" or "P0203".',
  );
}

function heavyCode(spn: number, fmi: number, count: string | undefined): Result<HeavyCode> {
  if (spn > LARGEST_SPN) {
    return refused(`SPN ${spn} is above ${LARGEST_SPN}, the largest there is.`, 'Read it again.');
  }
  if (fmi > 31) return refused(`FMI ${fmi} is above 31, the largest there is.`, 'Read it again.');
  if (count !== undefined && Number(count) > 126) {
    return refused(`${count} occurrences are more than a control unit counts.`, 'Read it again.');
  }
  return found({ family: 'J1939', spn, fmi, ...(count !== undefined && { count: Number(count) }) });
}

/** The code as it is written in the record: "SPN 653 FMI 5", "P0203", "P0203-00". */
export function writeTroubleCode(code: TroubleCode): string {
  if (code.family === 'J1939') return `SPN ${code.spn} FMI ${code.fmi}`;
  return code.failureType === undefined ? code.code : `${code.code}-${code.failureType}`;
}

/**
 * The cylinder a code points at, or null: injector codes SPN 651-658 and P0201-P0208, misfire codes SPN 1323-1328
 * and P0301-P0308. Source: SAE J1939 digital annex and SAE J2012, two public lists that agree on all of them.
 */
export function cylinderOf(code: TroubleCode): number | null {
  if (code.family === 'J2012') {
    const match = /^P0[23]0([1-8])$/.exec(code.code);
    return match ? Number(match[1]) : null;
  }
  if (code.spn >= 651 && code.spn <= 658) return code.spn - 650;
  return code.spn >= 1323 && code.spn <= 1328 ? code.spn - 1322 : null;
}

const SYSTEMS: Readonly<Record<string, string>> = {
  P: 'power train',
  C: 'chassis',
  B: 'body',
  U: 'network',
};

/** One line that says what a code means: "SPN 653 FMI 5: injector, cylinder 3, current low or open circuit (…)." */
export function explainTroubleCode(code: TroubleCode): string {
  const caution =
    'It names a circuit or a symptom, not yet the part: prove it before changing anything.';
  if (code.family === 'J1939') {
    const parameter = PARAMETERS.get(code.spn) ?? 'a parameter not in our table';
    const mode = FAILURE_MODES.get(code.fmi) ?? 'a failure mode the standard keeps free';
    return `${writeTroubleCode(code)}: ${parameter}, ${mode} (SAE J1939-73). ${caution}`;
  }
  return `${writeTroubleCode(code)}: ${lightMeaning(code.code)} (SAE J2012). ${caution}`;
}

function lightMeaning(code: string): string {
  const cylinder = cylinderOf({ family: 'J2012', code });
  if (cylinder !== null) {
    return code.startsWith('P02')
      ? `injector circuit, cylinder ${cylinder}`
      : `misfire, cylinder ${cylinder}`;
  }
  if (code === 'P0300') return 'misfire, several cylinders or changing';
  return `${SYSTEMS[code.charAt(0)]}, not in our table`;
}
