// Slips of the thumb, against every word that a slip can make: written out by hand for short words.
import { describe, expect, it } from 'vitest';
import { oneEdit, slipOf } from '../../../src/language/tidy/edits.ts';

const LETTERS = ['a', 'b', 'c', 'é'];

/** Every word that one slip makes of a word: a letter dropped, put in, changed, or swapped with its neighbour. */
function slips(word: string): Set<string> {
  const out = new Set<string>();
  for (let i = 0; i <= word.length; i += 1) {
    const [head, tail] = [word.slice(0, i), word.slice(i)];
    if (tail !== '') out.add(head + tail.slice(1));
    if (tail.length > 1) out.add(head + tail[1] + tail[0] + tail.slice(2));
    for (const letter of LETTERS) {
      out.add(head + letter + tail);
      if (tail !== '') out.add(head + letter + tail.slice(1));
    }
  }
  out.delete(word);
  return out;
}

/** Every word of so many letters. */
const words = (length: number): string[] =>
  length === 0 ? [''] : words(length - 1).flatMap((word) => LETTERS.map((one) => word + one));

const short = [0, 1, 2, 3, 4].flatMap(words);

describe('one slip', () => {
  it('is found for each word that one makes, and for no other', () => {
    const wrong = words(3).flatMap((meant) => {
      const near = slips(meant);
      return short
        .filter((word) => slipOf(word, meant) !== near.has(word))
        .map((word) => `${word} for ${meant}`);
    });
    expect(wrong).toEqual([]);
  });

  it('leaves the first letter right where that is asked', () => {
    const wrong = words(3).flatMap((meant) => {
      const near = slips(meant);
      return short
        .filter((word) => oneEdit(word, meant) !== (near.has(word) && word[0] === meant[0]))
        .map((word) => `${word} for ${meant}`);
    });
    expect(wrong).toEqual([]);
  });
});

describe('two slips, one of them a letter too many', () => {
  it.each([
    ['tiighttened', 'tightened', true, 'an i and a t too many'],
    ['tiighened', 'tightened', true, 'an i too many, a t too few'],
    ['xtihgtened', 'tightened', true, 'an x too many, g and h swapped'],
    ['tihgtned', 'tightened', false, 'g and h swapped, an e too few: no letter is too many'],
    ['xtiihgtened', 'tightened', false, 'three slips'],
    ['xbrkaes', 'brakes', true, 'six letters are enough'],
    ['xbrkae', 'brake', false, 'five are too few'],
  ])('%s for %s: %s, %s', (word, meant, is) => {
    expect(slipOf(word, meant)).toBe(is);
  });
});
