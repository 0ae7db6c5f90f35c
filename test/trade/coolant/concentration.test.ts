import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { concentrationFor } from '../../../src/trade/coolant/concentration.ts';
import { freezePoint } from '../../../src/trade/coolant/freeze-point.ts';
import type { Quantity } from '../../../src/trade/units.ts';
import { problemIn, valueIn } from '../unwrap.ts';

const from = (value: number, unit: Quantity['unit'] = 'Cel') =>
  concentrationFor({ glycol: 'ethylene', by: 'mass', freezesAt: { value, unit } });

describe('from a freezing point back to a concentration', () => {
  it('-33.8 °C is 50 % by mass in the handbook (ASHRAE 2001), less by the colder source', () => {
    const { low, high } = valueIn(from(-33.8));
    expect(high).toBeCloseTo(50, 6);
    // Melinder as reprinted in CoolProp: -29.524 °C at 45 %, -35.994 °C at 50 %.
    expect(low).toBeGreaterThan(45);
    expect(low).toBeLessThan(50);
  });

  it('-35.994 °C is 50 % by mass in the colder source (Melinder, CoolProp 8.0.0)', () => {
    expect(valueIn(from(-35.994)).low).toBeCloseTo(50, 2);
  });

  it('a reading in °F is the same reading: -37 °C is -34.6 °F (GNU Units)', () => {
    expect(valueIn(from(-34.6, 'degF')).high).toBeCloseTo(valueIn(from(-37)).high, 6);
  });

  it('there and back: the stronger end freezes where it was asked to', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('ethylene' as const, 'propylene' as const),
        fc.constantFrom('volume' as const, 'mass' as const),
        fc.double({ min: -48, max: -0.5, noNaN: true }),
        (glycol, by, celsius) => {
          const { low, high } = valueIn(
            concentrationFor({ glycol, by, freezesAt: { value: celsius, unit: 'Cel' } }),
          );
          expect(low).toBeLessThanOrEqual(high);
          expect(valueIn(freezePoint({ glycol, by, percent: high })).warmest).toBeCloseTo(
            celsius,
            5,
          );
          expect(valueIn(freezePoint({ glycol, by, percent: low })).coldest).toBeCloseTo(
            celsius,
            5,
          );
        },
      ),
    );
  });

  it('says the band and which end to use', () => {
    expect(valueIn(from(-33.8)).answer).toMatch(
      /^4[5-9][\d.]* to 50 % ethylene glycol by mass \(freezes at -33\.8 °C; two sources\)\. Count on the lower/,
    );
  });
});

describe('what is refused', () => {
  it.each<[string, number, Quantity['unit'], string]>([
    ['a minus forgotten', 37, 'Cel', 'The freezing point is 37 °C'],
    ['colder than 60 % reaches', -60, 'Cel', 'The freezing point is -60 °C'],
    ['litres', 5, 'L', 'volume, not temperature'],
    ['no figure', Number.NaN, 'Cel', 'no figure'],
  ])('%s', (_, value, unit, says) => {
    expect(problemIn(from(value, unit)).what).toContain(says);
  });
});
