// Will, going to, about to, need to: it has not happened.
import { hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const aboutTo: Rule = {
  name: 'about-to',
  says: 'Will, going to, about to, need to: it has not happened.',
  read: (clause) => (hasCue(clause, 'future') ? { kind: 'intends' } : undefined),
};

export const examples: Examples = {
  yes: ['gonna pull 5 and 6 after brew', 'about to drain the coolant', 'will torque the clamps'],
  no: ['coolant drained'],
  ask: [],
  also: ['later', 'started'],
};
