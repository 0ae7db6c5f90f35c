// Off, out, in, on, full, tight: where a part is says what was done.
import { movedOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const moved: Rule = {
  name: 'moved',
  says: 'Off, out, in, on, full, tight: where a part is says what was done.',
  read: (clause) => (movedOf(clause).length > 0 ? { kind: 'done' } : undefined),
};

export const examples: Examples = {
  yes: ['rocker cover off', 'injector out of 4'],
  no: ['rocker cover'],
  ask: [],
};
