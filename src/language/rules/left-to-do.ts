// To go, left to do, still to fit, needs doing: that much is not done.
import { figuresOf, hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const leftToDo: Rule = {
  name: 'left-to-do',
  says: 'To go, left to do, still to fit, needs doing: that much is not done.',
  read: (clause) =>
    hasCue(clause, 'left-to-do') || figuresOf(clause).some((figure) => figure.kind === 'left')
      ? { kind: 'not-done' }
      : undefined,
};

export const examples: Examples = {
  yes: ['3 codes to go', 'clamps still to do', 'cyl 4 left to do'],
  no: ['clamps done'],
  ask: [],
  also: ['still-as-it-was'],
};
