// A wish, an order or somebody's advice is not a report.
import { hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const wishOrAdvice: Rule = {
  name: 'wish-or-advice',
  says: "A wish, an order or somebody's advice is not a report.",
  read: (clause) => (hasCue(clause, 'wish') ? { kind: 'nothing' } : undefined),
};

export const examples: Examples = {
  yes: ['boss wants the coolant drained', 'wish the clamps were torqued'],
  no: ['coolant drained'],
  ask: [],
};
