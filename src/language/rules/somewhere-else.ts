// A part in the stores or on the other bus is not this job.
import { hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const somewhereElse: Rule = {
  name: 'somewhere-else',
  says: 'A part in the stores or on the other bus is not this job.',
  read: (clause) => (hasCue(clause, 'other-vehicle') ? { kind: 'nothing' } : undefined),
};

export const examples: Examples = {
  yes: ['rail relieved on the other bus', 'new injectors came in from the stores'],
  no: ['rail relieved'],
  ask: [],
};
