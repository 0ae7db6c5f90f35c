import { describe, expect, it } from 'vitest';
import { PlanFile } from '../../shared/plan.ts';
import { codeForm, readCode } from '../../src/trade/code-form.ts';
import { compareCodes, looksLike } from '../../src/trade/look-alike.ts';
import { problemIn, valueIn } from './unwrap.ts';

describe('the form of a code in a plan', () => {
  it.each([
    ["'C' 9{6} A H{2}", '"C", 6 digits, 1 letter, 2 hex digits'],
    ['X{20}', '20 letters or digits'],
    ['A9', '1 letter, 1 digit'],
    ['"AB-1" 99', '"AB1", 2 digits'],
  ])('%s reads back as %s', (pattern, says) => {
    expect(valueIn(codeForm({ pattern })).says).toBe(says);
  });

  it('counts the check in the pattern', () => {
    const form = valueIn(codeForm({ pattern: '9{4}', check: 'mod 10' }));
    expect(form.says).toBe('3 digits, 1 check character by mod 10');
    expect(form.places).toHaveLength(4);
  });

  it('knows every check by the name that a plan file may give it', () => {
    const asks = PlanFile.shape.steps.element.shape.report.unwrap().element.options;
    const names = asks.flatMap((ask) =>
      'check' in ask.shape ? ask.shape.check.unwrap().options : [],
    );
    expect(names).toHaveLength(6);
    for (const check of names) {
      expect(valueIn(codeForm({ pattern: '9{6}', check })).check, check).toBeDefined();
    }
  });

  it.each([
    [{ pattern: 'AB9' }, '"B" at place 2 of "AB9" means nothing in a code form.'],
    [{ pattern: "'C 99" }, `The quote at place 1 of "'C 99" is not closed.`],
    [{ pattern: '9{0}' }, '9{0} repeats a place 0 times.'],
    [{ pattern: '9{60}9{60}' }, 'The form "9{60}9{60}" has 120 places.'],
    [{ pattern: '' }, 'The form "" has 0 places.'],
    [{ pattern: 'A9', alphabet: 'ABC' }, 'The alphabet leaves nothing for place 2, a digit.'],
    [{ pattern: 'A9', check: 'mod 12' }, '"mod 12" is no check that is known.'],
    [{ pattern: '9', check: 'mod 10' }, 'The form has no place left before its check by mod 10.'],
    [
      { pattern: '99A', check: 'mod 37,36' },
      'The check by mod 37,36 is not the end of the pattern.',
    ],
    [
      { pattern: 'A99', check: 'mod 10' },
      'Place 1 of the form may be a character that mod 10 has no value for.',
    ],
  ])('refuses %j', (given, what) => {
    expect(problemIn(codeForm(given)).what).toBe(what);
  });
});

describe('a code that was typed', () => {
  const form = valueIn(codeForm({ pattern: "'C' 9{4} A H" }));

  it('may be in small letters, with spaces and hyphens', () => {
    expect(valueIn(readCode(form, 'c12-34 kf')).code).toBe('C1234KF');
  });

  it.each([
    [
      'C123KF',
      'C123KF has 6 characters, 1 too few; the form is "C", 4 digits, 1 letter, 1 hex digit.',
      'Read the code from the label again.',
    ],
    [
      'C12345KF',
      'C12345KF has 8 characters, 1 too many; the form is "C", 4 digits, 1 letter, 1 hex digit.',
      'Read the code from the label again.',
    ],
    [
      'C1O34KF',
      'Place 3 of C1O34KF is O, where the form has a digit.',
      'Look again: 0 may be meant.',
    ],
    [
      'C1234KG',
      'Place 7 of C1234KG is G, where the form has a hex digit.',
      'Look again: 6 may be meant.',
    ],
    [
      'D1234KF',
      'Place 1 of D1234KF is D, where the form has C.',
      'Read that place from the label again.',
    ],
  ])('%s is refused with the place', (text, what, doThis) => {
    expect(problemIn(readCode(form, text))).toEqual({ what, doThis });
  });

  it('does not use letters that the label leaves out', () => {
    const noI = valueIn(
      codeForm({ pattern: 'A9', alphabet: 'ABCDEFGHJKLMNPQRSTUVWXYZ0123456789' }),
    );
    expect(problemIn(readCode(noI, 'O1'))).toEqual({
      what: 'Place 1 of O1 is O, which this label does not use.',
      doThis: 'Look again: Q may be meant.',
    });
  });

  it('shows a misread character by its check, X and * included', () => {
    // 079X is the example of ISO/IEC 7064 for mod 11-2.
    const elevens = valueIn(codeForm({ pattern: '9999', check: 'mod 11-2' }));
    expect(valueIn(readCode(elevens, '079x')).answer).toBe(
      '079X has the form 3 digits, 1 check character by mod 11-2, and its check holds.',
    );
    expect(problemIn(readCode(elevens, '0790'))).toEqual({
      what: 'The check of 0790 fails: it ends in 0, the rest calls for X.',
      doThis: 'At least one character is misread: read the label again.',
    });
    // mod 37-2 by hand: value of 1 is 1, then 2 · 1 + c must leave 1 modulo 37: c = 36, the star.
    const stars = valueIn(codeForm({ pattern: 'XX', check: 'mod 37-2' }));
    expect(valueIn(readCode(stars, '1*')).code).toBe('1*');
  });
});

describe('two readings of one code', () => {
  it('are the same whatever the spacing', () => {
    expect(compareCodes('ab 12-34', 'AB1234').answer).toBe('Same code: AB1234.');
  });

  it('that differ in look-alikes say where', () => {
    const comparison = compareCodes('B0S1Z6', '8O51Z6');
    expect(
      comparison.differences.map(({ place, first, second }) => [place, first, second]),
    ).toEqual([
      [1, 'B', '8'],
      [2, '0', 'O'],
      [3, 'S', '5'],
    ]);
    expect(comparison.onlyLookAlikes).toBe(true);
    expect(comparison.answer).toBe(
      'Not the same: place 1 B or 8, place 2 0 or O, place 3 S or 5. These pass for each other: look at the label again, and at the entry.',
    );
  });

  it('that differ in more than looks, or in length, are told apart', () => {
    expect(compareCodes('A1', 'K1').onlyLookAlikes).toBe(false);
    expect(compareCodes('A12', 'A1').answer).toBe(
      'Not the same: A12 has 3 characters, A1 has 2. Read both again.',
    );
  });

  it.each(['O0', 'I1', 'B8', 'S5', 'Z2', 'G6'])('%s pass for each other, both ways', (pair) => {
    const [a = '', b = ''] = pair;
    expect(looksLike(a)).toContain(b);
    expect(looksLike(b)).toContain(a);
    expect(looksLike(a)).not.toContain(a);
  });
});
