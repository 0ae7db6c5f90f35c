// What a run says of the tests it left out.
import { describe, expect, it } from 'vitest';
import { leftOutLines } from '../left-out.ts';

describe('tests that were left out', () => {
  it('are counted by the reason in their titles', () => {
    expect(
      leftOutLines([
        'the store (left out on a machine without PostgreSQL: install it) > keeps',
        'the store (left out on a machine without PostgreSQL: install it) > forgets',
        'agrees with units(1) (not there)',
        'a title without a reason',
      ]),
    ).toEqual([
      '  2 × left out on a machine without PostgreSQL: install it',
      '  1 × not there',
      '  1 × a title without a reason',
    ]);
  });
});
