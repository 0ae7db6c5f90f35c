// Talk about my own back, my car or the match is not about the job.
import { type Clause, hasCue, partNamed } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';
import { MAY_NAME_PART } from '../thresholds.ts';

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

/** Words that go along with a report and are no talk of their own. */
const COURTESY =
  /^(mate|lads|cheers|thanks|ta|please|boss|lol|haha|hahaha|nice|good|well|no|morning|danke|bitte|jungs|chef|moin)$/;

/** "Kettle is on", "morning all": talk that names no part and no place, whatever was spoken of before. */
function offTheWork(clause: Clause): boolean {
  const named = clause.pieces.some(
    (piece) =>
      partNamed(piece, MAY_NAME_PART) ||
      piece.verbs.some((verb) => verb.form === 'past') ||
      piece.figures.some((figure) => figure.kind !== 'all') ||
      piece.cues.some((cue) => /^(later|future|condition|next|finished|yes|again)$/.test(cue.name)),
  );
  if (named) return false;
  const greeted = clause.pieces.some((piece) =>
    /^(morning|evening|night|moin|morgen)$/.test(piece.tokens[piece.from]?.word ?? ''),
  );
  const topic = clause.pieces.some((piece) =>
    piece.cues.some(
      (cue) => cue.name === 'chatter' && !COURTESY.test(piece.tokens[cue.from]?.word ?? ''),
    ),
  );
  return greeted || topic;
}

/** "Back in ten", "lads, back in 5 min": the writer himself. */
const backSoon = (clause: Clause): boolean =>
  clause.pieces.every((piece) => !partNamed(piece, MAY_NAME_PART)) &&
  clause.pieces.some((piece) => {
    const [back, within, figure] = piece.tokens.slice(piece.from, piece.from + 3);
    return (
      back?.word === 'back' &&
      within?.word === 'in' &&
      (figure?.kind === 'number' || /^(a|half|an)$/.test(figure?.word ?? ''))
    );
  });

/** Whether a clause is talk beside the work. */
export const isTalk = (clause: Clause): boolean =>
  hasCue(clause, 'private') ||
  ownsStrange(clause) ||
  aboutMyself(clause) ||
  offTheWork(clause) ||
  backSoon(clause);

export const privateTalk: Rule = {
  name: 'private-talk',
  says: 'Talk about my own back, my car or the match is not about the job.',
  read: (clause) => (isTalk(clause) ? { kind: 'nothing' } : undefined),
};

export const examples: Examples = {
  yes: [
    'my back is torqued to stage 3',
    'my car needs the coolant drained too',
    'kettle is on',
    'back in ten',
  ],
  no: ['rocker cover off', 'my wheel nuts are torqued'],
  ask: [],
  also: ['left-to-do'],
};
