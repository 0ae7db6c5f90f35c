// The places of a plan in words that are no report, and a word on what may have been left out.
import { describe, expect, it } from 'vitest';
import { placesNamed } from '../../src/language/places-named.ts';
import { readMessage } from '../../src/language/read.ts';
import { lexiconOf, readPlans } from '../corpus/score.ts';

const plan = readPlans().get('hub-bearing');
if (!plan) throw new Error('The plan hub-bearing is not among the shipped ones.');
const lexicon = lexiconOf(plan);

describe('places that a text names', () => {
  it.each([
    ['hub bearing right front', ['front right']],
    ['hub bearings both rears', ['rear left', 'rear right']],
    ['bus 12, 412350 km', []],
    ['bearing no 7', []],
  ])('%s', (text, places) => {
    expect(placesNamed(text, lexicon)).toEqual(places);
  });
});

describe('a word on what may have been left out', () => {
  it.each(['did i miss anything', 'have i forgotten anything?'])('%s', (text) => {
    expect(readMessage(text, lexicon, {}).acts).toMatchObject([
      { kind: 'command', command: 'next' },
    ]);
  });
});
