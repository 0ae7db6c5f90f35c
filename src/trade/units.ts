/**
 * The units a workshop writes, what kind of quantity each one measures, and the change from one to another.
 *
 * Every factor is a definition, not a measurement: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, standard gravity
 * 9.80665 m/s², 1 US gallon = 231 in³, 1 imperial gallon = 4.54609 L.
 * Source: NIST SP 811, appendix B (2008 edition).
 */
import type { Problem } from './result.ts';

/** What a unit measures. `distance` is how far a vehicle goes; `length` is what a rule, gauge or arm measures. */
export type QuantityKind =
  | 'torque'
  | 'volume'
  | 'pressure'
  | 'length'
  | 'distance'
  | 'temperature'
  | 'mass'
  | 'duration'
  | 'voltage'
  | 'resistance'
  | 'current'
  | 'speed'
  | 'angle'
  | 'percentage'
  | 'count';

type UnitRow = {
  readonly kind: QuantityKind;
  /** As it is written after a figure. */
  readonly symbol: string;
  /** One unit is `factor` of the kind's base unit: N·m, L, kPa, mm, kg, s, V, Ω, A, °C. */
  readonly factor: number;
  /** The units this word may stand for, where the word alone does not say. */
  readonly ambiguous?: readonly [string, string];
};

const POUND_FORCE_N = 4.4482216152605;

const ROWS = {
  'N.m': { kind: 'torque', symbol: 'N·m', factor: 1 },
  'lbf.ft': { kind: 'torque', symbol: 'lbf·ft', factor: POUND_FORCE_N * 0.0254 * 12 },
  'lbf.in': { kind: 'torque', symbol: 'lbf·in', factor: POUND_FORCE_N * 0.0254 },
  'kgf.m': { kind: 'torque', symbol: 'kgf·m', factor: 9.80665 },
  L: { kind: 'volume', symbol: 'L', factor: 1 },
  mL: { kind: 'volume', symbol: 'mL', factor: 1 / 1000 },
  gal_us: { kind: 'volume', symbol: 'US gal', factor: 3.785411784 },
  gal_imp: { kind: 'volume', symbol: 'imp gal', factor: 4.54609 },
  qt_us: { kind: 'volume', symbol: 'US qt', factor: 3.785411784 / 4 },
  qt_imp: { kind: 'volume', symbol: 'imp qt', factor: 4.54609 / 4 },
  pt_us: { kind: 'volume', symbol: 'US pt', factor: 3.785411784 / 8 },
  pt_imp: { kind: 'volume', symbol: 'imp pt', factor: 4.54609 / 8 },
  gal: { kind: 'volume', symbol: 'gal', factor: Number.NaN, ambiguous: ['gal_us', 'gal_imp'] },
  qt: { kind: 'volume', symbol: 'qt', factor: Number.NaN, ambiguous: ['qt_us', 'qt_imp'] },
  pt: { kind: 'volume', symbol: 'pt', factor: Number.NaN, ambiguous: ['pt_us', 'pt_imp'] },
  kPa: { kind: 'pressure', symbol: 'kPa', factor: 1 },
  MPa: { kind: 'pressure', symbol: 'MPa', factor: 1000 },
  bar: { kind: 'pressure', symbol: 'bar', factor: 100 },
  psi: { kind: 'pressure', symbol: 'psi', factor: POUND_FORCE_N / (25.4 * 25.4) / 0.001 },
  um: { kind: 'length', symbol: 'µm', factor: 1 / 1000 },
  mm: { kind: 'length', symbol: 'mm', factor: 1 },
  cm: { kind: 'length', symbol: 'cm', factor: 10 },
  m: { kind: 'length', symbol: 'm', factor: 1000 },
  thou: { kind: 'length', symbol: 'thou', factor: 0.0254 },
  in: { kind: 'length', symbol: 'in', factor: 25.4 },
  km: { kind: 'distance', symbol: 'km', factor: 1_000_000 },
  mi: { kind: 'distance', symbol: 'mi', factor: 1_609_344 },
  Cel: { kind: 'temperature', symbol: '°C', factor: 1 },
  degF: { kind: 'temperature', symbol: '°F', factor: 5 / 9 },
  kg: { kind: 'mass', symbol: 'kg', factor: 1 },
  g: { kind: 'mass', symbol: 'g', factor: 1 / 1000 },
  lb: { kind: 'mass', symbol: 'lb', factor: 0.45359237 },
  h: { kind: 'duration', symbol: 'h', factor: 3600 },
  min: { kind: 'duration', symbol: 'min', factor: 60 },
  s: { kind: 'duration', symbol: 's', factor: 1 },
  V: { kind: 'voltage', symbol: 'V', factor: 1 },
  mV: { kind: 'voltage', symbol: 'mV', factor: 1 / 1000 },
  Ohm: { kind: 'resistance', symbol: 'Ω', factor: 1 },
  kOhm: { kind: 'resistance', symbol: 'kΩ', factor: 1000 },
  A: { kind: 'current', symbol: 'A', factor: 1 },
  mA: { kind: 'current', symbol: 'mA', factor: 1 / 1000 },
  rpm: { kind: 'speed', symbol: 'r/min', factor: 1 },
  deg: { kind: 'angle', symbol: '°', factor: 1 },
  '%': { kind: 'percentage', symbol: '%', factor: 1 },
  count: { kind: 'count', symbol: '', factor: 1 },
} as const satisfies Record<string, UnitRow>;

/** The one spelling of each unit in code and in the JSON forms. */
export type Unit = keyof typeof ROWS;

/** A figure with its unit. Where a range was said, `low` and `high` are in the same unit. */
export type Quantity = { readonly value: number; readonly unit: Unit };

/** Every unit, in the order of the table. */
export const UNITS = Object.keys(ROWS) as readonly Unit[];

const row = (unit: Unit): UnitRow => ROWS[unit];

/** Whether a text is one of the canonical spellings (`N.m`, not "Nm"). */
export function isUnit(text: string): text is Unit {
  return Object.hasOwn(ROWS, text);
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

/** A bare number without float dust: at most `digits` significant figures, never fewer than its whole digits. */
export function formatFigure(value: number, digits = 4): string {
  if (!Number.isFinite(value)) return 'no figure';
  const wholeDigits = Math.abs(value) < 1 ? 1 : Math.floor(Math.log10(Math.abs(value))) + 1;
  const rounded = Number(value.toPrecision(Math.min(100, Math.max(digits, wholeDigits))));
  if (rounded === 0) return '0';
  const plain = String(rounded);
  return plain.includes('e-') ? rounded.toFixed(20).replace(/0+$/, '') : plain;
}
