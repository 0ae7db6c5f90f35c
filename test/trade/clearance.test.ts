import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { adjusterTurn, clearancesOut, shimFor } from '../../src/trade/clearance.ts';
import { problemIn, valueIn } from './unwrap.ts';

const limits = { inlet: { low: 0.2, high: 0.4 }, exhaust: { low: 0.45, high: 0.65 } };
const reading = (valve: string, kind: 'inlet' | 'exhaust', mm: number) => ({ valve, kind, mm });

describe('clearances against their limits', () => {
  it('allows the ends and names what lies outside', () => {
    const { out, answer } = valueIn(
      clearancesOut(
        [
          reading('cylinder 1 inlet', 'inlet', 0.2),
          reading('cylinder 1 exhaust', 'exhaust', 0.65),
          reading('cylinder 2 inlet', 'inlet', 0.43),
          reading('cylinder 2 exhaust', 'exhaust', 0.4),
        ],
        limits,
      ),
    );
    expect(out.map(({ valve, side }) => [valve, side])).toEqual([
      ['cylinder 2 inlet', 'wide'],
      ['cylinder 2 exhaust', 'tight'],
    ]);
    // 0.43 - 0.40 = 0.03; 0.45 - 0.40 = 0.05.
    expect(out[0]?.by).toBeCloseTo(0.03, 12);
    expect(out[1]?.by).toBeCloseTo(0.05, 12);
    expect(answer).toBe(
      '2 of 4 out of range: cylinder 2 inlet 0.43 mm (wide by 0.03 mm), cylinder 2 exhaust 0.4 mm (tight by 0.05 mm). Limits of the plan: inlet 0.2 to 0.4 mm, exhaust 0.45 to 0.65 mm. A tight clearance closes further as the engine warms and can burn the valve.',
    );
  });

  it('says when all is well', () => {
    expect(valueIn(clearancesOut([reading('a', 'inlet', 0.3)], limits)).answer).toBe(
      'All 1 clearances in range. Limits of the plan: inlet 0.2 to 0.4 mm, exhaust 0.45 to 0.65 mm.',
    );
  });

  it('refuses thousandths, nothing, and limits the wrong way round', () => {
    expect(problemIn(clearancesOut([reading('cylinder 1 inlet', 'inlet', 14)], limits)).what).toBe(
      '14 mm at cylinder 1 inlet is no valve clearance.',
    );
    expect(problemIn(clearancesOut([], limits)).what).toBe('There are no clearance readings.');
    const reversed = { ...limits, inlet: { low: 0.4, high: 0.2 } };
    expect(problemIn(clearancesOut([reading('a', 'inlet', 0.3)], reversed)).what).toContain(
      'not a range',
    );
  });
});

describe('the shim that brings a clearance to its target', () => {
  it('is thicker by what the gap is too wide', () => {
    // 2.50 + 0.38 - 0.30 = 2.58; nearest of 2.55 and 2.60 is 2.60, which leaves 2.50 + 0.38 - 2.60 = 0.28.
    const shim = valueIn(
      shimFor({ reading: 0.38, target: 0.3, fitted: 2.5, sizes: [2.5, 2.55, 2.6, 2.65] }),
    );
    expect(shim.exact).toBeCloseTo(2.58, 12);
    expect(shim.fit).toBe(2.6);
    expect(shim.leaves).toBeCloseTo(0.28, 12);
    expect(shim.answer).toBe(
      'Shim 2.6 mm, the nearest to 2.58 mm; it leaves 0.28 mm. 2.5 mm in now, reading 0.38 mm, target 0.3 mm. Measure the gap again once it is in.',
    );
  });

  it('is the thinner of two equally near', () => {
    // 2.0 + 0.5 - 0.25 = 2.25, as far from 2.0 as from 2.5: binary fractions, so the tie is exact.
    expect(valueIn(shimFor({ reading: 0.5, target: 0.25, fitted: 2, sizes: [2.5, 2] })).fit).toBe(
      2,
    );
  });

  it('leaves the target exactly where every thickness is to be had', () => {
    const length = fc.double({ min: 0.05, max: 2, noNaN: true });
    fc.assert(
      fc.property(length, length, (gap, target) => {
        const shim = valueIn(shimFor({ reading: gap, target, fitted: 3 }));
        expect(shim.leaves).toBeCloseTo(target, 9);
      }),
    );
  });

  it('refuses what no shim can do', () => {
    expect(problemIn(shimFor({ reading: 0, target: 0.4, fitted: 0.3 })).what).toBe(
      'No shim is thin enough: 0.3 mm is in, and the gap must open by 0.4 mm.',
    );
    expect(problemIn(shimFor({ reading: Number.NaN, target: 0.4, fitted: 3 })).what).toContain(
      'missing',
    );
  });
});

describe('the turn of an adjuster', () => {
  it('is the part of a turn that the screw needs', () => {
    // 0.10 mm at 1 mm a turn is a tenth of 360 degrees.
    const turn = valueIn(adjusterTurn({ reading: 0.45, target: 0.35, pitch: 1 }));
    expect(turn.degrees).toBeCloseTo(36, 9);
    expect(turn.direction).toBe('in');
    expect(turn.answer).toBe(
      '36° in (closes the gap). From 0.45 to 0.35 mm with a pitch of 1 mm. Check with the feeler after the locknut is tight: it draws the screw.',
    );
  });

  it('is less by the rocker ratio where the screw is at the push rod', () => {
    // 0.15 mm of gap at 1.5 mm for each mm of screw is 0.1 mm of screw: 0.1 / 0.75 of a turn = 48 degrees.
    const turn = valueIn(adjusterTurn({ reading: 0.25, target: 0.4, pitch: 0.75, gain: 1.5 }));
    expect(turn.degrees).toBeCloseTo(48, 9);
    expect(turn.direction).toBe('out');
  });

  it('is none on target', () => {
    expect(valueIn(adjusterTurn({ reading: 0.3, target: 0.3, pitch: 1 })).direction).toBe('none');
  });

  it.each([
    [
      { reading: 0.3, target: 0.4, pitch: 10 },
      'A screw pitch of 10 mm is not found on an adjuster.',
    ],
    [{ reading: 30, target: 0.4, pitch: 1 }, 'The reading or the target is no valve clearance.'],
    [{ reading: 0.3, target: 0.4, pitch: 1, gain: 0 }, 'A rocker ratio of 0 is out of proportion.'],
  ])('refuses %j', (given, what) => {
    expect(problemIn(adjusterTurn(given)).what).toBe(what);
  });
});
