// A quantity: a figure with its unit, alone or as a range: "28L", "25-30 nm", "between 25 and 30 litres".
import type { Token } from '../tidy/token.ts';
import type { FigureBody, Hit, ScanWords } from './figure.ts';
import { unitAt } from './unit.ts';

const numberAt = (tokens: readonly Token[], i: number): number | undefined => {
  const token = tokens[i];
  return token?.kind === 'number' ? token.value : undefined;
};

/** "1/2", "2 1/2": the fraction's value, where a unit makes it one. */
function fractionAt(
  tokens: readonly Token[],
  i: number,
): { value: number; next: number } | undefined {
  const [a, b] = [numberAt(tokens, i), numberAt(tokens, i + 2)];
  if (a === undefined || b === undefined || tokens[i + 1]?.word !== '/') return undefined;
  if (![2, 3, 4, 8, 16, 32].includes(b) || a >= b) return undefined;
  return { value: a / b, next: i + 3 };
}

/** "to litres": a number was said where one must stand. */
function heardAt(tokens: readonly Token[], i: number, words: ScanWords): number | undefined {
  const heard = words.heardNumbers[tokens[i]?.word ?? ''];
  const next = tokens[i + 1]?.word ?? '';
  if (heard === undefined || next.length < 3 || tokens[i - 1]?.kind === 'number') return undefined;
  return words.units[next] === undefined ? undefined : heard;
}

/** A minus before a figure: a sign that touches it and nothing before it, or the word. */
export const isMinus = (tokens: readonly Token[], i: number): boolean =>
  tokens[i + 1]?.kind === 'number' &&
  tokens[i - 1]?.kind !== 'number' &&
  (tokens[i]?.word === 'minus' ||
    (tokens[i]?.word === '-' && tokens[i + 1]?.glued === true && tokens[i]?.glued !== true));

function valueAt(
  tokens: readonly Token[],
  i: number,
  words: ScanWords,
): { value: number; next: number; doubtful: boolean } | undefined {
  const fraction = fractionAt(tokens, i);
  if (fraction) return { ...fraction, doubtful: false };
  const minus = isMinus(tokens, i);
  const at = minus ? i + 1 : i;
  const value = numberAt(tokens, at) ?? heardAt(tokens, at, words);
  if (value === undefined) return undefined;
  const part = fractionAt(tokens, at + 1);
  if (part && Number.isInteger(value))
    return { value: value + part.value, next: part.next, doubtful: false };
  return { value: minus ? -value : value, next: at + 1, doubtful: tokens[at]?.doubtful ?? false };
}

const RANGE = new Set(['-', 'to', 'and', '..', 'bis']);

/** Reads a quantity, or a range of bare numbers behind "between". */
export function quantity(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  const between =
    tokens[i]?.word === 'between' ||
    (tokens[i]?.word === 'from' &&
      tokens[i + 1]?.kind === 'number' &&
      tokens[i + 2]?.word === 'to');
  const first = valueAt(tokens, between ? i + 1 : i, words);
  if (!first) return undefined;
  const unit = unitAt(tokens, first.next, words);
  const behind = unit?.next ?? first.next;
  const second = rangeEnd(tokens, behind, between, words);
  if (second && second.value > first.value && (unit === undefined || unit.unit === second.unit)) {
    const body = asRange(first.value, second.value, second.unit ?? unit?.unit);
    if (body) return { body, next: second.next };
  }
  if (!unit) return undefined;
  if (isClockDuration(tokens, i)) return undefined;
  return {
    body: {
      kind: 'quantity',
      value: first.value,
      unit: unit.unit,
      ...(first.doubtful ? { doubtful: true } : {}),
    },
    next: unit.next,
  };
}

const isClockDuration = (tokens: readonly Token[], i: number) =>
  tokens[i + 1]?.word === 'h' && tokens[i + 2]?.kind === 'number';

function rangeEnd(
  tokens: readonly Token[],
  at: number,
  between: boolean,
  words: ScanWords,
): { value: number; unit?: string; next: number } | undefined {
  const sign = tokens[at]?.word ?? '';
  if (!RANGE.has(sign) || (sign === 'and' && !between)) return undefined;
  const end = valueAt(tokens, at + 1, words);
  if (!end) return undefined;
  const unit = unitAt(tokens, end.next, words);
  if (!unit) return between ? { value: end.value, next: end.next } : undefined;
  return { value: end.value, unit: unit.unit, next: unit.next };
}

function asRange(low: number, high: number, unit: string | undefined): FigureBody {
  const value = Number(((low + high) / 2).toPrecision(12));
  if (unit === undefined) return { kind: 'number', value, low, high, approx: true };
  return { kind: 'quantity', value, unit, low, high, approx: true };
}
