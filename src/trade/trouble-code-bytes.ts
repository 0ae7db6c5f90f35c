/**
 * Trouble codes as they travel: four bytes on a heavy vehicle, two on a light one.
 *
 * Heavy (SAE J1939-73; layout read in AgIsoStack++, Open-SAE-J1939 and python-can-j1939). Byte 3 always ends in the
 * five bits of the failure mode; byte 4 is the conversion bit, then seven bits of occurrence count, 127 for "not
 * known". The 19 bits of the parameter number lie differently:
 *
 * - version 4, conversion bit 0: byte 1 bits 7-0, byte 2 bits 15-8, top of byte 3 bits 18-16;
 * - version 3, conversion bit 1: the same;
 * - version 2, conversion bit 1: byte 1 bits 10-3, byte 2 bits 18-11, top of byte 3 bits 2-0;
 * - version 1, conversion bit 1: byte 1 bits 18-11, byte 2 bits 10-3, top of byte 3 bits 2-0.
 *
 * With conversion bit 1 the bytes alone do not say which of three versions the control unit follows, so all readings
 * are returned. Light (SAE J2012): two bits P C B U, two bits first digit, three hexadecimal digits.
 */
import { found, type Result, refused } from './result.ts';
import {
  explainTroubleCode,
  type HeavyCode,
  LARGEST_SPN,
  type LightCode,
  writeTroubleCode,
} from './trouble-code.ts';
import { PARAMETERS } from './trouble-code-words.ts';

/** The conversion methods of SAE J1939-73, by their usual numbers. */
export type ConversionMethod = 1 | 2 | 3 | 4;
export type FourBytes = readonly [number, number, number, number];

export type HeavyReading = {
  readonly methods: readonly ConversionMethod[];
  readonly code: HeavyCode;
};

export type HeavyBytes = {
  /** One entry if the bytes are clear, else one for each different reading. */
  readonly readings: readonly HeavyReading[];
  readonly ambiguous: boolean;
  readonly answer: string;
};

const METHODS_WITH_BIT_1: readonly ConversionMethod[] = [1, 2, 3];

/**
 * Reads the four bytes of one heavy-vehicle code.
 *
 * @param method the version that the control unit is known to follow; it settles an ambiguity.
 * Errors: not four bytes of 0 to 255; a method that contradicts the conversion bit.
 */
export function readHeavyBytes(
  bytes: readonly number[],
  method?: ConversionMethod,
): Result<HeavyBytes> {
  const [b1, b2, b3, b4] = bytes;
  if (
    bytes.length !== 4 ||
    b1 === undefined ||
    b2 === undefined ||
    b3 === undefined ||
    b4 === undefined
  ) {
    return refused(
      `A heavy-vehicle trouble code has four bytes, there are ${bytes.length}.`,
      'Give four, for example 90 02 05 03.',
    );
  }
  if (!bytes.every(isByte)) {
    return refused('A byte lies between 0 and 255 (00 and FF).', 'Read the four bytes again.');
  }
  const bit = b4 >> 7;
  if (method !== undefined && (method === 4) !== (bit === 0)) {
    return refused(
      `The conversion bit is ${bit}, which version ${method} does not use.`,
      bit === 0 ? 'Leave the version out: bit 0 means version 4.' : 'Choose version 1, 2 or 3.',
    );
  }
  const methods = method ? [method] : bit === 0 ? ([4] as const) : METHODS_WITH_BIT_1;
  const fmi = b3 & 31;
  const top = b3 >> 5;
  const occurrences = b4 & 127;
  const spnBy: Readonly<Record<ConversionMethod, number>> = {
    1: (b1 << 11) | (b2 << 3) | top,
    2: (b2 << 11) | (b1 << 3) | top,
    3: (top << 16) | (b2 << 8) | b1,
    4: (top << 16) | (b2 << 8) | b1,
  };
  const readings = [...new Set(methods.map((m) => spnBy[m]))].map(
    (spn): HeavyReading => ({
      methods: methods.filter((m) => spnBy[m] === spn),
      code: { family: 'J1939', spn, fmi, ...(occurrences < 127 && { count: occurrences }) },
    }),
  );
  const ambiguous = readings.length > 1;
  return found({ readings, ambiguous, answer: sayHeavy(readings, bytes) });
}

function sayHeavy(readings: readonly HeavyReading[], bytes: readonly number[]): string {
  const [first] = readings;
  const hex = bytes.map(asHex).join(' ');
  if (bytes.every((b) => b === 0)) return `No trouble code: ${hex} is an empty place.`;
  if (bytes.every((b) => b === 255)) return `No trouble code: ${hex} is filler.`;
  if (first && readings.length === 1) return explainTroubleCode(first.code);
  const list = readings.map(({ methods, code }) => {
    const known = PARAMETERS.get(code.spn);
    return `${writeTroubleCode(code)}${known ? `, ${known}` : ''} (version ${methods.join(' or ')})`;
  });
  return `Ambiguous: ${hex} may be ${list.join('; or ')}. Conversion bit 1 does not say which; ask the control unit's maker for the version.`;
}

/**
 * The four bytes of a heavy-vehicle code.
 * Errors: a number outside its bits. Without a count, 127 ("not known") is written.
 */
export function writeHeavyBytes(code: HeavyCode, method: ConversionMethod): Result<FourBytes> {
  const { spn, fmi, count = 127 } = code;
  const within = (value: number, high: number) =>
    Number.isInteger(value) && value >= 0 && value <= high;
  if (!within(spn, LARGEST_SPN) || !within(fmi, 31) || !within(count, 127)) {
    return refused(
      `${writeTroubleCode(code)} with ${count} occurrences does not fit into four bytes.`,
      `Keep SPN to ${LARGEST_SPN}, FMI to 31, occurrences to 127.`,
    );
  }
  const b4 = (method === 4 ? 0 : 128) | count;
  if (method >= 3) return found([spn & 255, (spn >> 8) & 255, ((spn >> 16) << 5) | fmi, b4]);
  const [high, middle] = [spn >> 11, (spn >> 3) & 255];
  const b3 = ((spn & 7) << 5) | fmi;
  return found(method === 1 ? [high, middle, b3, b4] : [middle, high, b3, b4]);
}

/**
 * The light-vehicle code in two bytes; null for 00 00, which only fills a place.
 * Errors: not two bytes.
 */
export function readLightBytes(bytes: readonly number[]): Result<LightCode | null> {
  const [high, low] = bytes;
  if (bytes.length !== 2 || high === undefined || low === undefined || !bytes.every(isByte)) {
    return refused(
      'A light-vehicle trouble code has two bytes of 00 to FF.',
      'Give two, for example 02 03.',
    );
  }
  if (high === 0 && low === 0) return found(null);
  const letter = 'PCBU'.charAt(high >> 6);
  const code = `${letter}${(high >> 4) & 3}${(high & 15).toString(16)}${asHex(low)}`.toUpperCase();
  return found({ family: 'J2012', code });
}

/** The two bytes of a light-vehicle code. Errors: a text that is no such code. */
export function writeLightBytes(code: LightCode): Result<readonly [number, number]> {
  const match = /^([PCBU])([0-3])([0-9A-F])([0-9A-F]{2})$/.exec(code.code);
  if (!match) return refused(`"${code.code}" is not a light-vehicle code.`, 'Write it like P0203.');
  const high = ('PCBU'.indexOf(match[1] ?? '') << 6) | (Number(match[2]) << 4);
  return found([high | Number.parseInt(match[3] ?? '', 16), Number.parseInt(match[4] ?? '', 16)]);
}

function isByte(value: number): boolean {
  return Number.isInteger(value) && value >= 0 && value <= 255;
}

function asHex(byte: number): string {
  return byte.toString(16).toUpperCase().padStart(2, '0');
}
