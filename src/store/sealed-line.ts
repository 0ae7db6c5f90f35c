// Lines of an append-only file, each with a check value, so that a torn or changed line is seen and not believed.
import { createHash } from 'node:crypto';

const CHECK_LENGTH = 16;

const checkOf = (json: string): string =>
  createHash('sha256').update(json).digest('hex').slice(0, CHECK_LENGTH);

/** One line: 16 hex digits of the SHA-256 of the JSON, a space, the JSON, a newline. */
export function sealLine(value: unknown): string {
  const json = JSON.stringify(value);
  return `${checkOf(json)} ${json}\n`;
}

export type OpenedLines = {
  readonly values: readonly unknown[];
  /** Bytes up to the end of the last whole line. */
  readonly good: number;
  /** Bytes behind it: a line that was being written when the process or the power went. */
  readonly torn: number;
  /** Whole lines whose check value does not fit, by number from 1. */
  readonly damaged: readonly { readonly line: number; readonly text: string }[];
};

function openLine(text: string): unknown {
  const json = text.slice(CHECK_LENGTH + 1);
  if (text.charAt(CHECK_LENGTH) !== ' ' || checkOf(json) !== text.slice(0, CHECK_LENGTH)) {
    return undefined;
  }
  try {
    return JSON.parse(json);
  } catch {
    return undefined;
  }
}

/** Reads the lines of such a file; never throws, whatever the bytes. */
export function openLines(bytes: Uint8Array): OpenedLines {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const values: unknown[] = [];
  const damaged: { line: number; text: string }[] = [];
  let good = 0;
  let line = 0;
  for (;;) {
    const end = buffer.indexOf(10, good);
    if (end < 0) break;
    line += 1;
    const text = buffer.toString('utf8', good, end);
    const value = openLine(text);
    if (value === undefined) damaged.push({ line, text });
    else values.push(value);
    good = end + 1;
  }
  return { values, good, torn: buffer.length - good, damaged };
}
