// The cautious figure holds in the share of cases it claims, on jobs drawn from another model than the forecast's own.
import { describe, expect, it } from 'vitest';
import { calibrate } from '../../bench/forecast-calibration.ts';

/** All 2,000 with `npm run check -- --whole` and in `npm run bench`; a part of them here, whose share is known less well. */
const WHOLE = process.env.CHARGEHAND_WHOLE !== undefined;
const CASES = WHOLE ? 2_000 : 200;

describe(`${CASES} jobs of another workshop`, () => {
  const found = calibrate(CASES, { runs: WHOLE ? 400 : 150 });

  it.each(found.filter(({ past }) => past))(
    'are ready by the cautious time in nine cases of ten, within five points: $name',
    ({ cautious }) => {
      expect(Math.abs(cautious - 0.9)).toBeLessThanOrEqual(0.05);
    },
  );

  it.each(found.filter(({ past }) => past))(
    'are ready by the likely time in about half: $name',
    ({ likely }) => {
      // Half within a tenth: it is the middle of a skewed spread, and the cautious figure is the one that is promised by.
      expect(Math.abs(likely - 0.5)).toBeLessThanOrEqual(0.1);
    },
  );

  it('are forecast too early where no past job tells that this planner is short, and more so the earlier it is asked', () => {
    const [begun, later] = found.filter(({ past }) => !past);
    expect(begun?.likely).toBeLessThan(0.45);
    expect(later?.likely).toBeGreaterThan(begun?.likely ?? 1);
    // The spread that is taken for an unknown plan is wide enough all the same.
    expect(begun?.cautious).toBeGreaterThan(0.8);
  });
});
