// No part in stock: the work cannot go on.
import { hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const outOfStock: Rule = {
  name: 'out-of-stock',
  says: 'No part in stock: the work cannot go on.',
  read: (clause) =>
    hasCue(clause, 'out-of-stock') &&
    (hasCue(clause, 'no') || hasCue(clause, 'not') || hasCue(clause, 'none'))
      ? { kind: 'blocked', note: true }
      : undefined,
};

export const examples: Examples = {
  yes: ['no washers in stock', 'no coolant left in the shop'],
  no: ['no leaks'],
  ask: [],
  also: ['not-done'],
};
