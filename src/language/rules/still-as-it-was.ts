// "Rail still on" says that it is not off.
import { hasCue, verbsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const stillAsItWas: Rule = {
  name: 'still-as-it-was',
  says: '"Rail still on" says that it is not off.',
  read: (clause) => {
    if (!hasCue(clause, 'still')) return undefined;
    if (verbsOf(clause).some((verb) => verb.form === 'ing')) return { kind: 'started' };
    return { kind: 'not-done', still: true };
  },
};

export const examples: Examples = {
  yes: ['rocker cover still on', 'still draining the coolant'],
  no: ['rocker cover on'],
  ask: [],
};
