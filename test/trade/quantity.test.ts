import { describe, expect, it } from 'vitest';
import { figureBetween, figureOf, formatRange } from '../../src/trade/quantity.ts';
import { problemIn, valueIn } from './unwrap.ts';

const ARM = { name: 'The arm', unit: 'mm', low: 50, high: 3000 } as const;

describe('a figure that a calculation is given', () => {
  it('comes in the unit of the calculation; the ends are allowed', () => {
    expect(valueIn(figureOf({ value: 40, unit: 'cm' }, ARM))).toBe(400);
    expect(valueIn(figureOf({ value: 50, unit: 'mm' }, ARM))).toBe(50);
    expect(valueIn(figureOf({ value: 3, unit: 'm' }, ARM))).toBe(3000);
  });

  it('is refused in another kind of unit', () => {
    expect(problemIn(figureOf({ value: 28, unit: 'L' }, ARM))).toEqual({
      what: 'The arm is given as 28 L, which is volume, not length.',
      doThis: 'Give the arm in a unit of length.',
    });
    expect(problemIn(figureOf({ value: 4, unit: 'km' }, ARM)).what).toContain('distance');
  });

  it('is refused outside the limits, and without a figure', () => {
    expect(problemIn(figureOf({ value: 4000, unit: 'mm' }, ARM)).what).toBe(
      'The arm is 4000 mm; this is worked out from 50 to 3000 mm.',
    );
    expect(problemIn(figureOf({ value: Number.NaN, unit: 'mm' }, ARM)).what).toBe(
      'The arm has no figure.',
    );
  });

  it('is asked about when a gallon may be either', () => {
    const volume = { name: 'The volume', unit: 'L', low: 0, high: 100 } as const;
    expect(problemIn(figureOf({ value: 2, unit: 'gal' }, volume)).what).toContain('US gal');
  });

  it('as a plain number lies between its ends', () => {
    const accepts = { name: 'The share in %', low: 0, high: 60 };
    expect(valueIn(figureBetween(60, accepts))).toBe(60);
    expect(problemIn(figureBetween(6000, accepts)).what).toBe(
      'The share in % is 6000; it must be from 0 to 60.',
    );
    expect(problemIn(figureBetween(Number.NaN, accepts)).what).toContain('no figure');
  });

  it('is written as a range with one unit', () => {
    expect(formatRange(0.3, 0.4, 'mm')).toBe('0.3 to 0.4 mm');
  });
});
