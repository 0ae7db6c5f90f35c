import { found, type Result, refused } from './result.ts';
import {
  convert,
  formatFigure,
  formatQuantity,
  kindOf,
  type Quantity,
  type Unit,
} from './units.ts';

/** What a calculation accepts: `name` begins the sentence that refuses ("The arm"), the ends are allowed values. */
export type Accepts = {
  readonly name: string;
  readonly unit: Unit;
  readonly low: number;
  readonly high: number;
};

/**
 * A quantity as a plain figure in the unit a calculation works in.
 * Refused, with a sentence: no finite figure, the wrong kind of unit, an ambiguous gallon, quart or pint,
 * a figure outside the limits.
 */
export function figureOf(quantity: Quantity, accepts: Accepts): Result<number> {
  const { name, unit, low, high } = accepts;
  if (!Number.isFinite(quantity.value)) {
    return refused(`${name} has no figure.`, `Give ${lowerFirst(name)} as a number in ${unit}.`);
  }
  if (kindOf(quantity.unit) !== kindOf(unit)) {
    return refused(
      `${name} is given as ${formatQuantity(quantity.value, quantity.unit)}, which is ${kindOf(quantity.unit)}, not ${kindOf(unit)}.`,
      `Give ${lowerFirst(name)} in a unit of ${kindOf(unit)}.`,
    );
  }
  const value = convert(quantity.value, quantity.unit, unit);
  if (typeof value !== 'number') return { ok: false, problem: value };
  if (value < low || value > high) {
    return refused(
      `${name} is ${formatQuantity(quantity.value, quantity.unit)}; this is worked out from ${formatRange(low, high, unit)}.`,
      'Check the figure and its unit.',
    );
  }
  return found(value);
}

/** A plain number that must lie between two ends, both allowed. */
export function figureBetween(
  value: number,
  accepts: { readonly name: string; readonly low: number; readonly high: number },
): Result<number> {
  const { name, low, high } = accepts;
  if (Number.isFinite(value) && value >= low && value <= high) return found(value);
  const given = Number.isFinite(value) ? `is ${formatFigure(value)}` : 'has no figure';
  return refused(
    `${name} ${given}; it must be from ${formatFigure(low)} to ${formatFigure(high)}.`,
    'Check the figure.',
  );
}

/** Two ends with one unit: "288 to 312 N·m". */
export function formatRange(low: number, high: number, unit: Unit): string {
  return `${formatFigure(low)} to ${formatQuantity(high, unit)}`;
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
