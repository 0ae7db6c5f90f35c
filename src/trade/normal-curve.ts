/**
 * The standard normal curve: the share below a point, and the point below which a share lies.
 *
 * The error function by formula 7.1.26 of Abramowitz and Stegun, Handbook of Mathematical Functions (1964), whose
 * largest error is 1.5e-7 (from memory); ample for a finish time in minutes.
 */

/** The share of a standard normal curve below `z`, 0 to 1, within 1e-7. */
export function shareBelow(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const polynomial =
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const erf = 1 - polynomial * Math.exp(-x * x);
  return z >= 0 ? (1 + erf) / 2 : (1 - erf) / 2;
}

/** The point below which a share of the curve lies, for a share above 0 and below 1; found by halving, within 1e-6. */
export function pointFor(share: number): number {
  let low = -8;
  let high = 8;
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    if (shareBelow(middle) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
