// A word is looked up the same whatever was looked up before it: a slip that was mended once is not mended where
// nothing may be mended.
import { describe, expect, it } from 'vitest';
import { buildLexicon } from '../../../src/language/lexicon.ts';
import { readMessage } from '../../../src/language/read.ts';
import { mangle } from '../mangler.ts';
import { plans } from '../plans.ts';

const hub = plans.find((one) => one.plan === 'hub-bearing');
if (!hub) throw new Error('The plan hub-bearing is not in data/plans. Name one that is.');

const read = (texts: readonly string[]): string[] => {
  const lexicon = buildLexicon(hub);
  return texts.map((text) => JSON.stringify(readMessage(text, lexicon, {})));
};

describe('a reading', () => {
  // "w/" before a word with a slip is opened only where the word behind it is known as it is written.
  it.each([
    ['lr w/nnuts 600', 'lr nnuts 600'],
    ['rr w/bearng presssed in', 'rr bearng pressed in'],
  ])('of %s is the same before and behind %s', (text, other) => {
    const [alone] = read([text]);
    const [, behind] = read([other, text]);
    expect(behind).toBe(alone);
  });

  it('of many messages with slips is the same forwards and backwards', () => {
    const texts = [
      'lr wheel nuts 600 nm',
      'rr w/bearing pressed in',
      'hub nut torqued front left, not the right',
    ].flatMap((text, at) => [1, 2, 3].flatMap((count) => mangle(text, count, at * 7 + count)));
    const backwards = read([...texts].reverse()).reverse();
    expect(backwards).toEqual(read(texts));
  });
});
