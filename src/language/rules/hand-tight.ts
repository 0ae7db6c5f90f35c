// Hand tight is not tightened.
import { type Clause, cueOf, movedOf, verbsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

const reportsMore = (clause: Clause) =>
  movedOf(clause).some((family) => family === 'fit' || family === 'renew') ||
  verbsOf(clause).some((verb) => verb.form === 'past' && !verb.classes.includes('tighten'));

export const handTight: Rule = {
  name: 'hand-tight',
  says: 'Hand tight is not tightened.',
  read: (clause) =>
    cueOf(clause, 'hand-tight') && !reportsMore(clause)
      ? { kind: 'not-done', handTight: true }
      : undefined,
};

export const examples: Examples = {
  yes: ['clamps hand tight', 'pipe nuts finger tight on 3'],
  no: ['clamps tight on all six'],
  ask: [],
};
