// Waiting for something: the work stands still, and nothing was done.
import { hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const waitingFor: Rule = {
  name: 'waiting-for',
  says: 'Waiting for something: the work stands still, and nothing was done.',
  read: (clause) => (hasCue(clause, 'wait-for') ? { kind: 'blocked', note: true } : undefined),
};

export const examples: Examples = {
  yes: ['waiting for washers', 'washers on back order'],
  no: ['washers on'],
  ask: [],
  also: ['wish-or-advice'],
};
