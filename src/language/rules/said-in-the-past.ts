// Drained, torqued, fitted: the verb says that it happened.
import { verbsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const saidInThePast: Rule = {
  name: 'said-in-the-past',
  says: 'Drained, torqued, fitted: the verb says that it happened.',
  read: (clause) => {
    const verbs = [...verbsOf(clause), ...(clause.lent?.verbs ?? [])];
    return verbs.some((verb) => verb.form === 'past') ? { kind: 'done' } : undefined;
  },
};

export const examples: Examples = {
  yes: ['coolant drained', 'drained 28 L', 'cyl 6 trim code entered'],
  no: ['drain the coolant'],
  ask: [],
};
