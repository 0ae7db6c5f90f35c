// Not, never, yet to, without: it has not been done.
import type { Examples, Rule } from '../stance.ts';

export const notDone: Rule = {
  name: 'not-done',
  says: 'Not, never, yet to, without: it has not been done.',
  read: (clause) => {
    const cues = clause.pieces.flatMap((piece) => piece.cues);
    const harmless = cues.filter((cue) => cue.name === 'harmless-no');
    const not = cues.find(
      (cue) =>
        (cue.name === 'not' ||
          cue.name === 'not-yet' ||
          cue.name === 'no' ||
          cue.name === 'none') &&
        !harmless.some((one) => one.from <= cue.from && cue.from < one.to),
    );
    return not ? { kind: 'not-done' } : undefined;
  },
};

export const examples: Examples = {
  yes: ['not torqued yet', 'codes not done', 'coolant isnt drained'],
  no: ['no problem, coolant drained'],
  ask: [],
};
