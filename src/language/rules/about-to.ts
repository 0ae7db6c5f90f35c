// Will, going to, about to, need to: it has not happened.
import { hasCue, partNamed, textOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const aboutTo: Rule = {
  name: 'about-to',
  says: 'Will, going to, about to, need to: it has not happened.',
  read: (clause) => {
    if (!hasCue(clause, 'future')) return undefined;
    // "Wil was going to torque the nuts" says that he did not.
    if (/\b(?:was|were) going to\b/.test(textOf(clause))) return { kind: 'not-done' };
    // "I'd trust them with my lunch" is a remark, and names nothing of the work.
    const named = clause.pieces.some((piece) => partNamed(piece));
    const would = clause.pieces.every((piece) =>
      piece.cues.every(
        (cue) =>
          cue.name !== 'future' ||
          /^(would|might|may|could|can)$/.test(piece.tokens[cue.from]?.word ?? '') ||
          /^(i|we) can$/.test(
            piece.tokens
              .slice(cue.from, cue.to)
              .map((one) => one.word)
              .join(' '),
          ),
      ),
    );
    return would && !named ? { kind: 'nothing' } : { kind: 'intends' };
  },
};

export const examples: Examples = {
  yes: ['gonna pull 5 and 6 after brew', 'about to drain the coolant', 'will torque the clamps'],
  no: ['coolant drained'],
  ask: [],
  also: ['later', 'started'],
};
