// "I think", "should be", "probably": ask before it is written down.
import { hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const inDoubt: Rule = {
  name: 'in-doubt',
  says: '"I think", "should be", "probably": ask before it is written down.',
  read: (clause) => (hasCue(clause, 'doubt') ? { kind: 'unsure' } : undefined),
};

export const examples: Examples = {
  yes: [],
  no: ['coolant drained'],
  ask: ['think the coolant is drained', 'clamps probably torqued on 3'],
};
