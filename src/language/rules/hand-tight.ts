// Hand tight is not tightened.
import { type Clause, cueOf, movedOf, verbsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

/** "Pipes on, hand tight": said before it; "hand tight on 3" tells where. */
const movedBefore = (clause: Clause): boolean => {
  const cue = cueOf(clause, 'hand-tight');
  return clause.pieces.some((piece) =>
    piece.tokens
      .slice(piece.from, Math.min(piece.to, cue?.from ?? piece.to))
      .some((token) => /^(on|in|up|back|home|inside|dran|drin|drauf|rein|neu)$/.test(token.word)),
  );
};

const reportsMore = (clause: Clause) =>
  (movedBefore(clause) &&
    movedOf(clause).some((family) => family === 'fit' || family === 'renew')) ||
  verbsOf(clause).some(
    (verb) =>
      verb.form === 'past' &&
      !verb.classes.includes('tighten') &&
      // "Nuts run up by hand": the way in which they are only hand tight.
      !/^(run|wind|spin|turn|screw|do)$/.test(verb.lemma),
  );

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
