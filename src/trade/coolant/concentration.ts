import { sayAnswer } from '../answer.ts';
import { figureOf } from '../quantity.ts';
import { found, type Result } from '../result.ts';
import type { Basis, Glycol } from '../tables/glycol.ts';
import { formatFigure, formatQuantity, type Quantity } from '../units.ts';
import { curvesFor, warmestAt } from './freeze-curves.ts';
import { checkMixture, STRONGEST_PERCENT } from './freeze-point.ts';

export type Concentration = {
  /** In per cent: what to count on when this freezing point was measured. */
  readonly low: number;
  /** In per cent: what to mix so as to be sure of this freezing point. */
  readonly high: number;
  readonly answer: string;
};

/**
 * The concentration in per cent that goes with a freezing point, as a band between the two sources: the inverse of
 * `freezePoint`, found by halving.
 * Refused: a freezing point above 0 °C or below what 60 % reaches for certain; a figure that is no temperature.
 */
export function concentrationFor(question: {
  readonly glycol: Glycol;
  readonly freezesAt: Quantity;
  readonly by: Basis;
  readonly source?: string;
}): Result<Concentration> {
  const { glycol, by } = question;
  const known = checkMixture(glycol, by);
  if (!known.ok) return known;
  const celsius = figureOf(question.freezesAt, {
    name: 'The freezing point',
    unit: 'Cel',
    low: Math.ceil(warmestAt(glycol, by, STRONGEST_PERCENT) * 10) / 10,
    high: 0,
  });
  if (!celsius.ok) return celsius;
  const all = { from: 0, to: STRONGEST_PERCENT, at: (x: number) => warmestAt(glycol, by, x) };
  const high = weakestReaching(all, celsius.value);
  const low = Math.min(
    high,
    ...curvesFor(glycol, by).map((curve) => weakestReaching(curve, celsius.value)),
  );
  return found({
    low,
    high,
    answer: sayAnswer({
      figure: `${formatFigure(low, 3)} to ${formatQuantity(high, '%', 3)} ${glycol} glycol by ${by}`,
      basis: `freezes at ${formatQuantity(question.freezesAt.value, question.freezesAt.unit)}; two sources`,
      cautions: ['Count on the lower figure for what is in the system, mix to the higher.'],
      source: question.source,
    }),
  });
}

/** The least per cent at which a falling curve is at or below a temperature; endless where it never gets there. */
function weakestReaching(
  curve: { readonly from: number; readonly to: number; readonly at: (percent: number) => number },
  celsius: number,
): number {
  let { from: low, to: high } = curve;
  if (curve.at(low) <= celsius) return low;
  if (curve.at(high) > celsius) return Number.POSITIVE_INFINITY;
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    if (curve.at(middle) <= celsius) high = middle;
    else low = middle;
  }
  return high;
}
