/**
 * Times estimated by three points: o if all goes well, m most likely, p if it goes badly; any one unit, here minutes.
 *
 * t = (o + 4m + p) / 6, variance = ((p - o) / 6)².
 * Source: Malcolm, Roseboom, Clark and Fazar, Operations Research 7 (1959) 646 (from memory); used so in every textbook
 * of operations management.
 */
import { found, type Result, refused } from './result.ts';
import { formatFigure } from './units.ts';

export type ThreePoint = { readonly o: number; readonly m: number; readonly p: number };

export type Estimate = {
  /** Expected time, in the unit of the estimate. */
  readonly expected: number;
  /** In that unit squared. */
  readonly variance: number;
};

/** Errors: a figure missing or below 0; not o ≤ m ≤ p. */
export function threePoint({
  o,
  m,
  p,
}: ThreePoint): Result<Estimate & { readonly answer: string }> {
  if (![o, m, p].every((value) => Number.isFinite(value) && value >= 0)) {
    return refused(
      'A three-point time needs three figures of 0 or more.',
      'Give the shortest, the usual and the longest time in minutes.',
    );
  }
  if (!(o <= m && m <= p)) {
    return refused(
      `${o}, ${m}, ${p} do not rise.`,
      'Give the shortest time first, then the usual one, then the longest.',
    );
  }
  const expected = (o + 4 * m + p) / 6;
  const variance = ((p - o) / 6) ** 2;
  const answer = `${formatFigure(expected)} min expected, from ${o}, ${m}, ${p} by (o + 4m + p)/6; give or take ${formatFigure(Math.sqrt(variance), 2)} min (one standard deviation).`;
  return found({ expected, variance, answer });
}
