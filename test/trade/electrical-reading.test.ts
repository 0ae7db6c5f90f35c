import { describe, expect, it } from 'vitest';
import { checkElectrical, windingAt20 } from '../../src/trade/electrical-reading.ts';
import { problemIn, valueIn } from './unwrap.ts';

const battery = { what: 'battery at rest', unit: 'V', limits: { low: 24.8, high: 26 } } as const;

describe('an electrical reading', () => {
  it.each([
    [24.8, 'within'],
    [26, 'within'],
    [24.79, 'low'],
    [26.01, 'high'],
  ])('of %d V is %s', (value, side) => {
    expect(valueIn(checkElectrical({ ...battery, value })).side).toBe(side);
  });

  it('is answered with its limits', () => {
    expect(valueIn(checkElectrical({ ...battery, value: 24.1 })).answer).toBe(
      "24.1 V battery at rest: too low for the plan's limits (at least 24.8 V, at most 26 V). Clean the contacts and measure once more before changing the part.",
    );
    expect(
      valueIn(
        checkElectrical({ what: 'earth strap', value: 0.01, unit: 'Ohm', limits: { high: 0.02 } }),
      ).answer,
    ).toBe("0.01 Ω earth strap: within the plan's limits (at most 0.02 Ω).");
  });

  it.each([
    [{ ...battery, unit: 'bar', value: 3 }, 'battery at rest is given as pressure.'],
    [{ ...battery, value: Number.NaN }, 'There is no figure for battery at rest.'],
    [{ ...battery, value: 25, limits: {} }, 'The plan gives no usable limits for battery at rest.'],
    [
      { ...battery, value: 25, limits: { low: 3, high: 2 } },
      'The plan gives no usable limits for battery at rest.',
    ],
    [{ ...battery, unit: 'Ohm', value: -1 }, '-1 Ω is below nothing for battery at rest.'],
  ] as const)('%j is refused', (given, what) => {
    expect(problemIn(checkElectrical(given)).what).toBe(what);
  });
});

describe('a copper winding measured warm', () => {
  it('shows less at 20 degrees', () => {
    // 1.393 / (1 + 0.00393 · 100) = 1.393 / 1.393 = 1 at 120 °C; the leads' 0.2 come off first.
    expect(valueIn(windingAt20({ value: 1.393, unit: 'Ohm', celsius: 120 })).value).toBeCloseTo(
      1,
      12,
    );
    const withLeads = valueIn(windingAt20({ value: 1.593, unit: 'Ohm', celsius: 120, leads: 0.2 }));
    expect(withLeads.value).toBeCloseTo(1, 12);
    expect(withLeads.answer).toContain('less 0.2 Ω for the leads');
    expect(valueIn(windingAt20({ value: 0.45, unit: 'Ohm', celsius: 20 })).value).toBe(0.45);
  });

  it('is refused without sense', () => {
    expect(problemIn(windingAt20({ value: 1, unit: 'V', celsius: 20 })).what).toContain(
      'no resistance',
    );
    expect(problemIn(windingAt20({ value: 1, unit: 'Ohm', celsius: 400 })).what).toContain(
      '400 °C',
    );
    expect(
      problemIn(windingAt20({ value: 0.1, unit: 'Ohm', celsius: 20, leads: 0.2 })).what,
    ).toContain('leads');
  });
});
