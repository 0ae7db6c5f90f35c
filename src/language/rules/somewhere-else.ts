// A part in the stores or on the other bus is not this job.
import type { Examples, Rule } from '../stance.ts';

export const somewhereElse: Rule = {
  name: 'somewhere-else',
  says: 'A part in the stores or on the other bus is not this job.',
  read: (clause) =>
    clause.pieces.some((piece) =>
      piece.cues.some(
        (cue) =>
          cue.name === 'other-vehicle' &&
          // Where the plan itself speaks of the stores, they are a place of this job.
          !(
            piece.tokens[cue.from]?.word === 'to' &&
            piece.tokens[cue.to - 1]?.entry?.root === 'store' &&
            piece.tokens[cue.to - 1]?.entry?.plan === true
          ),
      ),
    )
      ? { kind: 'nothing' }
      : undefined,
};

export const examples: Examples = {
  yes: ['rail relieved on the other bus', 'new injectors came in from the stores'],
  no: ['rail relieved'],
  ask: [],
};
