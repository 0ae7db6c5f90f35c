// Half, most, nearly: a part of it is done.
import { hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const nearly: Rule = {
  name: 'nearly',
  says: 'Half, most, nearly: a part of it is done.',
  read: (clause) =>
    hasCue(clause, 'nearly') &&
    !clause.pieces.some((p) =>
      p.figures.some((f) => (f.kind === 'quantity' || f.kind === 'number') && f.approx),
    )
      ? { kind: 'partial' }
      : undefined,
};

export const examples: Examples = {
  yes: ['coolant half drained', 'most of the clips are off'],
  no: ['drained nearly 28 L'],
  ask: [],
};
