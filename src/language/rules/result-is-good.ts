// "Sleeve ok" says that it was looked at and found good.
import { hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const resultIsGood: Rule = {
  name: 'result-is-good',
  says: '"Sleeve ok" says that it was looked at and found good.',
  read: (clause) => (hasCue(clause, 'good') ? { kind: 'done', weak: true } : undefined),
};

export const examples: Examples = {
  yes: ['sleeve 3 ok'],
  no: ['sleeve 3'],
  ask: [],
};
