// A question mark makes it a question, whatever stands before it.
import type { Examples, Rule } from '../stance.ts';

export const questionMark: Rule = {
  name: 'question-mark',
  says: 'A question mark makes it a question, whatever stands before it.',
  read: (clause) => (clause.question && !clause.states ? { kind: 'asks' } : undefined),
};

export const examples: Examples = {
  yes: ['coolant drained?', 'clamps torqued on 3?'],
  no: ['coolant drained'],
  ask: [],
};
