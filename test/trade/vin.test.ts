import { describe, expect, it } from 'vitest';
import { checkDigit, checkVin } from '../../src/trade/vin.ts';
import { publishedFile } from './published-file.ts';
import { problemIn, valueIn } from './unwrap.ts';

// 49 CFR 565.15(c): the third row is the regulation's own sample, the fourth is from NHTSA's outline for new
// manufacturers. Sums by the same table; the npm package vin-validator agrees on all of them.
const ROWS = [
  ['1M8GDM9AXKP042788', 351, 'X', true],
  ['11111111111111111', 89, '1', true],
  ['1G4AH59H45G118341', 411, '4', true],
  ['1J9RP1A36A1644345', 314, '6', true],
  ['5GZCZ43D13S812715', 408, '1', true],
  ['SGZCZ43D13S812715', 384, 'X', false],
  ['WP0ZZZ99ZTS392124', 459, '8', false],
  ['KLATF08Y1VB363636', 356, '4', false],
] as const;

describe('the check digit of 49 CFR 565.15(c)', () => {
  it.each(ROWS)('%s: sum %i, check %s, holds %s', (vin, sum, check, holds) => {
    const result = valueIn(checkVin(vin));
    expect(result.weightedSum).toBe(sum);
    expect(result.expected).toBe(check);
    expect(result.holds).toBe(holds);
  });

  const file = publishedFile('vin.json') as
    | {
        rows: {
          vin: string;
          sum: number;
          remainder: number;
          check: string;
          pos9: string;
          valid: boolean;
        }[];
      }
    | undefined;
  it.skipIf(!file)(
    'agrees with every row of vin.json (left out where that file is not beside the checkout)',
    () => {
      expect(file?.rows.length).toBeGreaterThan(0);
      for (const row of file?.rows ?? []) {
        expect(valueIn(checkVin(row.vin)), row.vin).toMatchObject({
          weightedSum: row.sum,
          remainder: row.remainder,
          expected: row.check,
          given: row.pos9,
          holds: row.valid,
        });
      }
    },
  );
});

describe('what follows from a digit that fails', () => {
  it('is an error in North America', () => {
    // The regulation's sample with its 4 in place 9 written 5.
    const result = valueIn(checkVin('1G4AH59H55G118341'));
    expect(result.level).toBe('error');
    expect(result.answer).toContain('4 is called for (sum 411, 49 CFR 565.15(c))');
    expect(result.answer).toContain('must carry it');
  });

  it.each(['WP0ZZZ99ZTS392124', 'KLATF08Y1VB363636'])('is advice for %s', (vin) => {
    const result = valueIn(checkVin(vin));
    expect(result.level).toBe('advice');
    expect(result.answer).toContain('the digit is not required');
  });

  it('is advice for a first character of 6 to 9, South America and Oceania', () => {
    // Seventeen ones have the sum 89; a 6 in place 1, weight 8, adds 5 · 8 = 40: 129 = 11 · 11 + 8, and place 9 is 1.
    expect(valueIn(checkVin('61111111111111111'))).toMatchObject({
      weightedSum: 129,
      expected: '8',
      level: 'advice',
    });
  });

  it('names the look-alike that would explain it', () => {
    const result = valueIn(checkVin('SGZCZ43D13S812715'));
    expect(result.suggestions).toContain('5GZCZ43D13S812715');
    expect(result.answer).toContain('place 1: 5 for S');
  });

  it('suggests only numbers whose digit holds', () => {
    for (const [vin] of ROWS) {
      for (const other of valueIn(checkVin(vin)).suggestions) {
        expect(valueIn(checkVin(other)).holds).toBe(true);
      }
    }
  });
});

describe('a number that cannot be read', () => {
  it('has every character of the set, and spaces do not matter', () => {
    expect(valueIn(checkVin(' 1m8gdm9axkp-042788 ')).vin).toBe('1M8GDM9AXKP042788');
  });

  it.each([
    [
      '1M8GDM9AXKPO42788',
      '"O" at place 12 is not used in a vehicle identification number.',
      'Look again: 0 is probably meant.',
    ],
    [
      'IM8GDM9AXKP042788',
      '"I" at place 1 is not used in a vehicle identification number.',
      'Look again: 1 is probably meant.',
    ],
    [
      '1M8GDM9AXKPQ42788',
      '"Q" at place 12 is not used in a vehicle identification number.',
      'Look again: 0 is probably meant.',
    ],
    [
      '1M8GDM9AXKP0427é8',
      '"É" at place 16 is not used in a vehicle identification number.',
      'Use letters and digits, without I, O and Q.',
    ],
  ])('%s', (text, what, doThis) => {
    expect(problemIn(checkVin(text))).toEqual({ what, doThis });
  });

  it('is short', () => {
    expect(problemIn(checkVin('1M8GDM9AX')).what).toBe(
      'A vehicle identification number has 17 characters, this one has 9.',
    );
  });
});

it('finds every single wrong digit where the rest stays', () => {
  // A digit off by 1 to 9 times a weight of 2 to 10 is never a multiple of 11, which is prime.
  const vin = '1M8GDM9AXKP042788';
  for (const [place, right] of [...vin].entries()) {
    if (!/\d/.test(right) || place === 8) continue;
    for (const wrong of '0123456789') {
      if (wrong !== right) expect(checkDigit([...vin].with(place, wrong).join(''))).not.toBe('X');
    }
  }
});
