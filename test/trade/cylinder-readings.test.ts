import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareCylinders } from '../../src/trade/cylinder-readings.ts';
import { problemIn, valueIn } from './unwrap.ts';

const readings = (...values: number[]) =>
  values.map((value, index) => ({ cylinder: index + 1, value }));

describe('readings across the cylinders', () => {
  it('stand out as the eight values of the NIST e-Handbook do (1.3.5.17, from memory): one outlier, 245.57', () => {
    // By hand: median (200.82 + 201.92)/2 = 201.37; distances 2.06 1.84 1.18 0.55 0.55 0.58 0.81 44.20, their median
    // (0.81 + 1.18)/2 = 0.995; scores 0.6745 · 44.20/0.995 = 29.96 and, the next, 0.6745 · 2.06/0.995 = 1.40.
    const values = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
    const spread = valueIn(
      compareCylinders({
        what: 'return flow',
        unit: 'mL',
        step: 0.01,
        readings: readings(...values),
      }),
    );
    expect(spread.median).toBeCloseTo(201.37, 9);
    expect(spread.standOut.map(({ cylinder }) => cylinder)).toEqual([8]);
    expect(spread.standOut[0]?.score).toBeCloseTo(29.96, 2);
  });

  it('give spread and share of the highest, and are held against the plan', () => {
    // 28 - 21 = 7 bar; 7/28 = 25 %.
    const spread = valueIn(
      compareCylinders({
        what: 'compression',
        unit: 'bar',
        step: 0.5,
        readings: readings(28, 27.5, 21, 28, 27.5, 27),
        limits: { low: 22, spreadPercent: 15 },
      }),
    );
    expect(spread.spread).toBe(7);
    expect(spread.spreadPercent).toBe(25);
    expect(spread.outOfLimits.map(({ cylinder }) => cylinder)).toEqual([3]);
    expect(spread.spreadTooWide).toBe(true);
    expect(spread.within).toBe(false);
    expect(spread.answer).toBe(
      "Spread of compression 7 bar (25 % of the highest): cylinder 3 21 bar to cylinder 1 28 bar. Outside the plan's limits (at least 22 bar, spread at most 15 %): cylinder 3. Cylinder 3 stands out from the rest (modified z-score over 3.5): measure it again before taking anything apart.",
    );
  });

  it('count the ends as allowed, decimal dust included', () => {
    // 2.4 - 2.1 is 0.2999… or 0.3000…4 in binary; the plan's 0.3 allows it.
    const spread = valueIn(
      compareCylinders({
        what: 'balance',
        unit: 'bar',
        step: 0.1,
        readings: readings(2.4, 2.1),
        limits: { low: 2.1, high: 2.4, spread: 0.3 },
      }),
    );
    expect(spread.within).toBe(true);
  });

  it('of balance may lie on both sides of zero, without a share', () => {
    const spread = valueIn(
      compareCylinders({
        what: 'balance',
        unit: 'rpm',
        step: 1,
        readings: readings(-4, -2, -3, -1),
      }),
    );
    expect(spread.spreadPercent).toBeNull();
    expect(spread.answer).toContain('No limit is given');
  });

  it('that differ by one step of the gauge raise nothing, nor do three cylinders', () => {
    const step = { what: 'compression', unit: 'bar', step: 0.5 } as const;
    const alike = compareCylinders({ ...step, readings: readings(28, 28, 28, 28, 28, 27.5) });
    expect(valueIn(alike).standOut).toEqual([]);
    expect(valueIn(compareCylinders({ ...step, readings: readings(28, 28, 10) })).standOut).toEqual(
      [],
    );
  });

  it('do not depend on the order of cylinders or on a shift of all', () => {
    const values = fc.array(fc.integer({ min: 0, max: 400 }), { minLength: 4, maxLength: 12 });
    fc.assert(
      fc.property(values, fc.integer({ min: 1, max: 50 }), (list, shift) => {
        const given = { what: 'leak-down', unit: '%', step: 1 } as const;
        const plain = valueIn(compareCylinders({ ...given, readings: readings(...list) }));
        const turned = valueIn(
          compareCylinders({ ...given, readings: readings(...list).toReversed() }),
        );
        const moved = valueIn(
          compareCylinders({ ...given, readings: readings(...list.map((v) => v + shift)) }),
        );
        const names = (s: typeof plain) => s.standOut.map((r) => r.cylinder).sort((a, b) => a - b);
        expect(names(turned)).toEqual(names(plain));
        expect(names(moved)).toEqual(names(plain));
        expect(moved.spread).toBe(plain.spread);
      }),
    );
  });

  it.each([
    [readings(), 'There is no reading of compression.'],
    [readings(28), 'There is one reading of compression.'],
    [readings(28, Number.NaN), 'Cylinder 2 has no figure.'],
    [[...readings(28, 27), { cylinder: 1, value: 3 }], 'Cylinder 1 has two readings.'],
  ])('%j are refused', (list, what) => {
    expect(
      problemIn(compareCylinders({ what: 'compression', unit: 'bar', step: 0.5, readings: list }))
        .what,
    ).toBe(what);
  });
});
