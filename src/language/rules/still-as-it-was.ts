// "Rail still on" says that it is not off.
import { cueOf, figuresOf, verbsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const stillAsItWas: Rule = {
  name: 'still-as-it-was',
  says: '"Rail still on" says that it is not off.',
  read: (clause, tongue) => {
    const still = cueOf(clause, 'still');
    if (!still) return undefined;
    if (verbsOf(clause).some((verb) => verb.form === 'ing')) return { kind: 'started' };
    const more = figuresOf(clause).some(
      (figure) => figure.kind === 'quantity' && figure.from === still.to,
    );
    const past = verbsOf(clause).some((verb) => verb.form === 'past');
    if (tongue.pack.verbLast) {
      // "noch 2 Liter nachgefüllt" is two litres more; "noch anziehen" is left to do.
      if (more && past) return undefined;
      if (!past && verbsOf(clause).some((verb) => verb.form === 'base' && !verb.maybeNoun))
        return { kind: 'not-done' };
    }
    return { kind: 'not-done', still: true };
  },
};

export const examples: Examples = {
  yes: ['rocker cover still on', 'still draining the coolant'],
  no: ['rocker cover on'],
  ask: [],
  also: ['started'],
};
