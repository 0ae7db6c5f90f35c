import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type FluidEntry, fluidBalance } from '../../../src/trade/coolant/balance.ts';
import { problemIn, valueIn } from '../unwrap.ts';

const litres = (what: FluidEntry['what'], value: number): FluidEntry => ({
  what,
  volume: { value, unit: 'L' },
});

describe('drained against filled', () => {
  // Out less in, against the larger of 1 L and 5 % of what came out; sums by hand.
  it.each<[string, FluidEntry[], number, number, string]>([
    ['even', [litres('drained', 28), litres('filled', 28)], 0, 1.4, 'balanced'],
    ['at the end of 5 %', [litres('drained', 28), litres('filled', 26.6)], 1.4, 1.4, 'balanced'],
    ['just past it', [litres('drained', 28), litres('filled', 26.5)], 1.5, 1.4, 'too-little-in'],
    ['at the end of 1 L', [litres('drained', 8), litres('filled', 7)], 1, 1, 'balanced'],
    ['just past it', [litres('drained', 8), litres('filled', 6.9)], 1.1, 1, 'too-little-in'],
    ['too much in', [litres('drained', 28), litres('filled', 30)], -2, 1.4, 'too-much-in'],
    [
      'two containers, a spill each way and two top-ups',
      [
        litres('drained', 20),
        litres('drained', 6),
        litres('spilled-draining', 2),
        litres('filled', 25),
        litres('spilled-filling', 0.5),
        litres('topped-up', 2),
        litres('topped-up', 1),
      ],
      0.5,
      1.4,
      'balanced',
    ],
  ])('%s: %j', (_, entries, unaccounted, tolerance, verdict) => {
    const balance = valueIn(fluidBalance(entries));
    expect(balance.unaccounted).toBeCloseTo(unaccounted, 9);
    expect(balance.tolerance).toBeCloseTo(tolerance, 9);
    expect(balance.verdict).toBe(verdict);
  });

  it('in other units of volume', () => {
    // 1 imperial gallon is 4.54609 L.
    const balance = valueIn(
      fluidBalance([
        { what: 'drained', volume: { value: 2, unit: 'gal_imp' } },
        { what: 'filled', volume: { value: 9092.18, unit: 'mL' } },
      ]),
    );
    expect(balance.unaccounted).toBeCloseTo(0, 9);
  });

  it("by the workshop's own tolerance", () => {
    const entries = [litres('drained', 28), litres('filled', 26)];
    expect(valueIn(fluidBalance(entries, 'coolant', { litres: 2, percent: 0 })).verdict).toBe(
      'balanced',
    );
    expect(valueIn(fluidBalance(entries, 'coolant', { litres: 0, percent: 0 })).verdict).toBe(
      'too-little-in',
    );
  });

  it('does not depend on the order of the reports', () => {
    const entry = fc.record({
      what: fc.constantFrom<FluidEntry['what']>(
        'drained',
        'spilled-draining',
        'filled',
        'topped-up',
      ),
      volume: fc.record({
        value: fc.integer({ min: 0, max: 400 }).map((tenths) => tenths / 10),
        unit: fc.constant('L' as const),
      }),
    });
    fc.assert(
      fc.property(fc.array(entry, { maxLength: 8 }), (others) => {
        const entries = [litres('drained', 10), ...others];
        const a = valueIn(fluidBalance(entries));
        const b = valueIn(fluidBalance([...entries].reverse()));
        expect(b.verdict).toBe(a.verdict);
        expect(b.unaccounted).toBeCloseTo(a.unaccounted, 9);
        expect(a.out - a.in).toBeCloseTo(a.unaccounted, 9);
      }),
    );
  });

  it('is said figure first, then what to do', () => {
    expect(valueIn(fluidBalance([litres('drained', 28), litres('filled', 24)])).answer).toBe(
      '4 L less in than came out (28 L of coolant out, 24 L in; up to 1.4 L either way is let pass). Bleed it and top it up before the engine runs under load.',
    );
    expect(
      valueIn(fluidBalance([litres('drained', 8), litres('filled', 10)], 'oil')).answer,
    ).toContain('2 L more in than came out (8 L of oil out');
  });
});

describe('what is refused', () => {
  const drained = litres('drained', 28);
  it.each<[string, FluidEntry[], string]>([
    ['nothing drained', [litres('filled', 28)], 'No coolant is reported as drained'],
    ['a negative volume', [drained, litres('filled', -2)], 'The volume filled in is -2 L'],
    ['6000 L', [litres('drained', 6000)], 'The volume drained is 6000 L'],
    ['no figure', [litres('drained', Number.NaN)], 'no figure'],
    ['a torque', [{ what: 'drained', volume: { value: 28, unit: 'N.m' } }], 'torque, not volume'],
    ['bare quarts', [{ what: 'drained', volume: { value: 30, unit: 'qt' } }], '"qt" may be'],
    [
      'more spilled than poured',
      [drained, litres('filled', 1), litres('spilled-filling', 2)],
      'than was poured',
    ],
  ])('%s', (_, entries, says) => {
    expect(problemIn(fluidBalance(entries)).what).toContain(says);
  });

  it('a tolerance below nought', () => {
    expect(
      problemIn(fluidBalance([drained], 'coolant', { litres: -1, percent: 5 })).what,
    ).toContain('-1');
  });
});
