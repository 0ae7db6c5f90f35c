// "Tighter than a drum" is talk unless a verb reports something.
import { hasCue, verbsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const onlyCompared: Rule = {
  name: 'only-compared',
  says: '"Tighter than a drum" is talk unless a verb reports something.',
  read: (clause) =>
    hasCue(clause, 'than') && !verbsOf(clause).some((verb) => verb.form === 'past')
      ? { kind: 'nothing' }
      : undefined,
};

export const examples: Examples = {
  yes: ['the clamp is tighter than a drum'],
  no: ['clamps torqued'],
  ask: [],
  also: ['private-talk'],
};
