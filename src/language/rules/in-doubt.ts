// "I think", "should be", "probably": ask before it is written down.
import { hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';
import { isAdvice } from './wish-or-advice.ts';

export const inDoubt: Rule = {
  name: 'in-doubt',
  says: '"I think", "should be", "probably": ask before it is written down.',
  read: (clause) => {
    if (!hasCue(clause, 'doubt')) return undefined;
    // "The pads must be bedded in before the road test" says what is to be.
    return { kind: hasCue(clause, 'must') && isAdvice(clause) ? 'nothing' : 'unsure' };
  },
};

export const examples: Examples = {
  yes: [],
  no: ['coolant drained'],
  ask: ['think the coolant is drained', 'clamps probably torqued on 3'],
};
