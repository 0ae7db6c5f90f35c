// Fasteners named for another part, and the ending of a verb without its vowel.
import { describe, expect, it } from 'vitest';
import { readMessage } from '../../src/language/read.ts';
import { lexiconOf, readPlans } from '../corpus/score.ts';

const plan = readPlans().get('hub-bearing');
if (!plan) throw new Error('The plan hub-bearing is not among the shipped ones.');
const lexicon = lexiconOf(plan);
const doneSteps = (text: string) =>
  readMessage(text, lexicon, {})
    .acts.filter((act) => act.kind === 'done')
    .map((act) => act.step);

describe('the figure of the wheel nuts said of other fasteners', () => {
  it.each(['lock nut 600 Nm front right', 'caliper nuts 600nm front right'])(
    'tightens no wheel nut: %s',
    (text) => expect(doneSteps(text)).not.toContain('tighten-wheel-nuts'),
  );

  it('tightens them where it is said of them', () =>
    expect(doneSteps('wheel nuts 600nm front right')).toEqual(['tighten-wheel-nuts']));
});

describe('a verb whose ending lost its vowel', () => {
  it.each([
    ['wheels chockd', 'chock-wheels'],
    ['front right jackd up', 'jack-up'],
  ])('is a report or a question, never an order: %s', (text, step) => {
    const { acts } = readMessage(text, lexicon, {});
    expect(acts).not.toEqual([]);
    expect(JSON.stringify(acts)).toContain(step);
  });
});
