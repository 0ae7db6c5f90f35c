/**
 * How likely a job is done within a time, and within what time it is done with a given likelihood.
 *
 * The whole is treated as normally distributed about its expected time, with the variance along its critical path; any
 * one unit of time, here minutes.
 */
import { pointFor, shareBelow } from './normal-curve.ts';
import { found, type Result, refused } from './result.ts';
import { formatFigure } from './units.ts';

type Whole = { readonly expected: number; readonly variance: number };

export type Likelihood = { readonly share: number; readonly answer: string };

const HOPEFUL = 'It is hopeful where other chains are nearly as long';

/**
 * How likely the whole is done within a time, by the normal approximation: Φ((time - expected) / √variance).
 * Without any spread it is certain or impossible. Errors: a time below 0 or missing.
 */
export function likelyWithin(whole: Whole, time: number): Result<Likelihood> {
  if (!(time >= 0 && Number.isFinite(time))) {
    return refused('There is no time to compare with.', 'Give the minutes that are left.');
  }
  const { expected, variance } = whole;
  const deviation = Math.sqrt(variance);
  const share =
    deviation > 0 ? shareBelow((time - expected) / deviation) : time >= expected ? 1 : 0;
  return found({
    share,
    answer: `${formatFigure(100 * share, 3)} % likely within ${formatFigure(time)} min (expected ${formatFigure(expected)}, normal approximation along the longest chain). ${HOPEFUL}.`,
  });
}

/**
 * The time within which the whole is done with a given likelihood, above 0 and below 1.
 * Errors: a likelihood outside.
 */
export function timeFor(
  whole: Whole,
  share: number,
): Result<{ readonly time: number; readonly answer: string }> {
  if (!(share > 0 && share < 1)) {
    return refused('A likelihood lies between 0 and 100 %.', 'Give one between, for example 90 %.');
  }
  const time = Math.max(0, whole.expected + pointFor(share) * Math.sqrt(whole.variance));
  return found({
    time,
    answer: `${formatFigure(time)} min for a likelihood of ${formatFigure(100 * share, 3)} % (expected ${formatFigure(whole.expected)}, normal approximation). ${HOPEFUL}.`,
  });
}
