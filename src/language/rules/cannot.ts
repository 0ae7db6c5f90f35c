// Cannot, stuck, will not come out: it is held up.
import { hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const cannot: Rule = {
  name: 'cannot',
  says: 'Cannot, stuck, will not come out: it is held up.',
  read: (clause) => (hasCue(clause, 'cannot') ? { kind: 'blocked', note: true } : undefined),
};

export const examples: Examples = {
  yes: ['cannot get injector 3 out', 'injector 4 stuck'],
  no: ['injector 4 out'],
  ask: [],
  also: ['not-done'],
};
