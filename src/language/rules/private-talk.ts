// Talk about my own back, my car or the match is not about the job.
import { type Clause, hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

/** "My bck is torqued": what is mine and no part of the plan as written. */
const ownsStrange = (clause: Clause) =>
  clause.pieces.some((piece) => {
    const mine = piece.tokens[piece.from];
    const thing = piece.tokens[piece.from + 1];
    if (
      !/^(my|your|his|her|mein|meine|dein|deine)$/.test(mine?.word ?? '') ||
      thing?.kind !== 'word' ||
      /^(colleague|mate|apprentice|helper|buddy|oppo|kollege|kollegin)$/.test(thing.word)
    )
      return false;
    return (
      thing.mended !== undefined ||
      (thing.entry?.plan !== true &&
        thing.entry?.forms.length === 0 &&
        thing.entry?.side === undefined)
    );
  });

/** "I'm caged in here": what was done to me was not done to the vehicle. */
const aboutMyself = (clause: Clause) =>
  clause.pieces.some((piece) => {
    const [a, b, c] = piece.tokens.slice(piece.from, piece.from + 3);
    const me = a?.word === 'i' && b?.word === 'am' && c?.entry?.forms.includes('past') === true;
    return me && !/^(finished|done|started|finish)$/.test(c?.word ?? '');
  });

export const privateTalk: Rule = {
  name: 'private-talk',
  says: 'Talk about my own back, my car or the match is not about the job.',
  read: (clause) =>
    hasCue(clause, 'private') || ownsStrange(clause) || aboutMyself(clause)
      ? { kind: 'nothing' }
      : undefined,
};

export const examples: Examples = {
  yes: ['my back is torqued to stage 3', 'my car needs the coolant drained too'],
  no: ['rocker cover off', 'my wheel nuts are torqued'],
  ask: [],
  also: ['left-to-do'],
};
