// Done, finished, complete, or a tick behind a step.
import { hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const calledDone: Rule = {
  name: 'called-done',
  says: 'Done, finished, complete, or a tick behind a step.',
  read: (clause) =>
    hasCue(clause, 'finished') || clause.pieces.some((piece) => piece.tick)
      ? { kind: 'done' }
      : undefined,
};

export const examples: Examples = {
  yes: ['leak check done', 'cyl 3 code ✅'],
  no: ['leak check'],
  ask: [],
};
