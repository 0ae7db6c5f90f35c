// A wish, an order or somebody's advice is not a report.
import { hasCue, wordsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const wishOrAdvice: Rule = {
  name: 'wish-or-advice',
  says: "A wish, an order or somebody's advice is not a report.",
  read: (clause) => {
    if (!hasCue(clause, 'wish')) return undefined;
    const words = wordsOf(clause).join(' ');
    // A wish that it were done says that it is not; "should have it out by ten" is a plan.
    if (/\bwish (?:\w+ )+(?:was|were|had)\b/.test(words)) return { kind: 'not-done' };
    if (/\b(?:should|could) have (?:\w+ ){1,6}by \d/.test(words)) return { kind: 'intends' };
    return { kind: 'nothing' };
  },
};

export const examples: Examples = {
  yes: ['boss wants the coolant drained', 'wish the clamps were torqued'],
  no: ['coolant drained'],
  ask: [],
};
