import { sayAnswer } from '../answer.ts';
import { figureOf } from '../quantity.ts';
import { found, type Result } from '../result.ts';
import type { Glycol } from '../tables/glycol.ts';
import { formatFigure, formatQuantity, type Quantity } from '../units.ts';
import { coldestAt, warmestAt } from './freeze-curves.ts';
import { type Basis, checkMixture, STRONGEST_PERCENT } from './freeze-point.ts';

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
  const low = weakestReaching((percent) => coldestAt(glycol, by, percent), celsius.value);
  const high = weakestReaching((percent) => warmestAt(glycol, by, percent), celsius.value);
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

/** The least per cent at which a falling curve is at or below a temperature, to a ten-millionth. */
function weakestReaching(curve: (percent: number) => number, celsius: number): number {
  let low = 0;
  let high = STRONGEST_PERCENT;
  if (curve(low) <= celsius) return low;
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    if (curve(middle) <= celsius) high = middle;
    else low = middle;
  }
  return high;
}
