/**
 * Units: what kind of quantity each one measures, the change from one to another, and how a figure is written.
 * The sizes of the units and their source are in `tables/unit-rows.ts`.
 */
import type { Problem } from './result.ts';
import { type QuantityKind, UNIT_ROWS, type UnitRow } from './tables/unit-rows.ts';

export type { QuantityKind } from './tables/unit-rows.ts';

/** The one spelling of each unit in code and in the JSON forms. */
export type Unit = keyof typeof UNIT_ROWS;

/** A figure with its unit. */
export type Quantity = { readonly value: number; readonly unit: Unit };

/** Every unit, in the order of the table. */
export const UNITS = Object.keys(UNIT_ROWS) as readonly Unit[];

const row = (unit: Unit): UnitRow => UNIT_ROWS[unit];

/** Whether a text is one of the canonical spellings (`N.m`, not "Nm"). */
export function isUnit(text: string): text is Unit {
  return Object.hasOwn(UNIT_ROWS, text);
}

/** What the unit measures. */
export function kindOf(unit: Unit): QuantityKind {
  return row(unit).kind;
}

/** How the unit is written after a figure: `N·m`, `°C`, `US gal`. Empty for a count. */
export function symbolOf(unit: Unit): string {
  return row(unit).symbol;
}

/** The units a bare "gal", "qt" or "pt" may stand for; empty for a unit that says what it is. */
export function meaningsOf(unit: Unit): readonly Unit[] {
  return (row(unit).ambiguous ?? []) as readonly Unit[];
}

/** Lengths and distances are both metres, so they may be changed into each other; nothing else crosses kinds. */
function sameDimension(a: QuantityKind, b: QuantityKind): boolean {
  const metres = (kind: QuantityKind) => kind === 'length' || kind === 'distance';
  return a === b || (metres(a) && metres(b));
}

/**
 * A value in another unit, unrounded.
 *
 * Errors, as a {@link Problem}: no finite figure; two kinds of quantity; "gal", "qt" or "pt" without saying US or
 * imperial (they differ by a fifth); a temperature below absolute zero.
 */
export function convert(value: number, from: Unit, to: Unit): number | Problem {
  if (!Number.isFinite(value)) {
    return {
      what: 'There is no figure to change into another unit.',
      doThis: `Give a number in ${nameOf(from)}.`,
    };
  }
  if (!sameDimension(kindOf(from), kindOf(to))) {
    return {
      what: `${nameOf(from)} measures ${kindOf(from)}, ${nameOf(to)} measures ${kindOf(to)}.`,
      doThis: `Give the figure in a unit of ${kindOf(to)}.`,
    };
  }
  if (kindOf(from) === 'temperature') return convertTemperature(value, from, to);
  if (from === to) return value;
  for (const unit of [from, to]) {
    if (meaningsOf(unit).length > 0) return askWhich(unit);
  }
  return scale(value, from, to);
}

/**
 * A difference of temperature in another unit: 10 °C warmer is 18 °F warmer, while 10 °C itself is 50 °F.
 * Errors as for {@link convert}.
 */
export function convertDifference(value: number, from: Unit, to: Unit): number | Problem {
  const bothTemperatures = kindOf(from) === 'temperature' && kindOf(to) === 'temperature';
  if (!bothTemperatures || !Number.isFinite(value)) return convert(value, from, to);
  if (from === to) return value;
  return from === 'Cel' ? (value * 9) / 5 : (value * 5) / 9;
}

function convertTemperature(value: number, from: Unit, to: Unit): number | Problem {
  const celsius = from === 'Cel' ? value : ((value - 32) * 5) / 9;
  if (celsius < -273.15) {
    return {
      what: `${formatQuantity(value, from)} is below absolute zero.`,
      doThis: 'Read the temperature again and give it with °C or °F.',
    };
  }
  if (from === to) return value;
  return to === 'Cel' ? celsius : (value * 9) / 5 + 32;
}

/** Dividing by the whole number keeps 28 mL at 0.028 L, where multiplying by 0.001 would leave dust. */
function scale(value: number, from: Unit, to: Unit): number | Problem {
  const a = row(from).factor;
  const b = row(to).factor;
  const result = a >= b || a === 0 ? value * (a / b) : value / (b / a);
  if (Number.isFinite(result)) return result;
  return {
    what: `${value} ${symbolOf(from)} is too large to be written in ${nameOf(to)}.`,
    doThis: 'Read the figure again.',
  };
}

function askWhich(unit: Unit): Problem {
  const sizes = meaningsOf(unit).map(
    (meaning) => `${symbolOf(meaning)} (${formatQuantity(row(meaning).factor, 'L')})`,
  );
  return {
    what: `"${unit}" may be ${sizes.join(' or ')}.`,
    doThis: 'Say which one, or give litres.',
  };
}

function nameOf(unit: Unit): string {
  return symbolOf(unit) || 'a count';
}

/**
 * A figure as the trade writes it: "300 N·m", "0.35 mm", "1.1 bar", "90°", "5".
 *
 * @param digits significant figures kept after the decimal point is reached; whole digits are never rounded away,
 * so 123456 km stays as it is.
 */
export function formatQuantity(value: number, unit: Unit, digits = 4): string {
  const figure = formatFigure(value, digits);
  const symbol = symbolOf(unit);
  if (symbol === '') return figure;
  return symbol === '°' ? `${figure}°` : `${figure} ${symbol}`;
}

/**
 * A bare number without float dust: `digits` significant figures, or all its whole digits if those are more.
 * A figure smaller than 1e-12 is written as 0.
 */
export function formatFigure(value: number, digits = 4): string {
  if (!Number.isFinite(value)) return 'no figure';
  const wholeDigits = Math.abs(value) < 1 ? 1 : Math.floor(Math.log10(Math.abs(value))) + 1;
  const rounded = Number(value.toPrecision(Math.min(100, Math.max(digits, wholeDigits))));
  if (Math.abs(rounded) < 1e-12) return '0';
  const plain = String(rounded);
  return plain.includes('e-') ? rounded.toFixed(20).replace(/0+$/, '') : plain;
}
