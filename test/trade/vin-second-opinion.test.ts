// A second opinion on check digits: the package vin-validator, run beside our own sum.
import fc from 'fast-check';
import validator from 'vin-validator';
import { expect, it } from 'vitest';
import { checkVin } from '../../src/trade/vin.ts';
import { valueIn } from './unwrap.ts';

const CHARACTERS = 'ABCDEFGHJKLMNPRSTUVWXYZ0123456789';

it.each([
  ['1M8GDM9AXKP042788', true],
  ['11111111111111111', true],
  ['1G4AH59H45G118341', true],
  ['1J9RP1A36A1644345', true],
  ['SGZCZ43D13S812715', false],
] as const)('%s holds: %s, and the package agrees', (vin, holds) => {
  expect(valueIn(checkVin(vin)).holds).toBe(holds);
  expect(validator.validate(vin)).toBe(holds);
});

it('agrees on any number, with the check digit as it falls and as it should be', () => {
  const character = fc.constantFrom(...CHARACTERS);
  const digit = fc.constantFrom(...'0123456789X');
  fc.assert(
    fc.property(
      fc.array(character, { minLength: 17, maxLength: 17 }),
      digit,
      (characters, given) => {
        const vin = characters.with(8, given).join('');
        const ours = valueIn(checkVin(vin));
        expect(validator.validate(vin)).toBe(ours.holds);
        const right = [...vin].with(8, ours.expected).join('');
        expect(validator.validate(right)).toBe(true);
        expect(valueIn(checkVin(right)).holds).toBe(true);
      },
    ),
  );
});
