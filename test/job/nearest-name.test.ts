import { describe, expect, it } from 'vitest';
import { nearestName, slips } from '../../src/job/nearest-name.ts';

describe('slips of the finger between two words', () => {
  // Counted by hand, letter by letter.
  it.each([
    ['', '', 0],
    ['', 'abc', 3],
    ['abc', '', 3],
    ['drain', 'drain', 0],
    ['drain', 'drian', 1],
    ['drain', 'drai', 1],
    ['drain', 'drains', 1],
    ['drain', 'drawn', 1],
    ['drain', 'dawn', 2],
    ['ca', 'abc', 3],
    ['kitten', 'sitting', 3],
  ])('%j and %j: %i', (a, b, count) => {
    expect(slips(a, b)).toBe(count);
    expect(slips(b, a)).toBe(count);
  });
});

describe('the nearest name', () => {
  const known = ['drain-coolant', 'fill-coolant', 'fit-head', 'lift', 'N.m'];
  it.each([
    ['drain-coolnat', 'drain-coolant'],
    ['coolant-drain', 'drain-coolant'],
    ['Drain Coolant', 'drain-coolant'],
    ['filt-head', 'fit-head'],
    ['lfit', 'lift'],
    ['Nm', 'N.m'],
  ])('%j is %j', (name, nearest) => expect(nearestName(name, known)).toBe(nearest));

  it('is the first of two that are equally near', () => {
    expect(nearestName('fit-hear', ['fit-head', 'fit-heat'])).toBe('fit-head');
  });

  it('shares half of the words at least', () => {
    expect(nearestName('remove-gearbox-cover-bolts', ['fit-cover'])).toBeUndefined();
    expect(nearestName('cover-refit', ['fit-cover'])).toBe('fit-cover');
  });

  it.each(['', '---', 'wheel-nuts', 'zzzz', 'x'.repeat(10_000)])('nothing is near %.20j', (name) =>
    expect(nearestName(name, known)).toBeUndefined(),
  );
});
