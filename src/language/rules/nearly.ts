// Half, most, nearly: a part of it is done.
import type { Examples, Rule } from '../stance.ts';

export const nearly: Rule = {
  name: 'nearly',
  says: 'Half, most, nearly: a part of it is done.',
  read: (clause) =>
    clause.pieces.some((piece) =>
      piece.cues.some(
        (cue) =>
          cue.name === 'nearly' &&
          !piece.figures.some(
            (one) => one.kind === 'time' && one.from <= cue.from && cue.to <= one.to,
          ),
      ),
    ) &&
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
