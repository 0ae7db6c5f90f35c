// Parts have arrived, back on it: what stood still goes on.
import { figuresOf, hasCue, verbsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

const ARRIVE = /^(arrive|come|turn|get|carry|crack|resume|continue|restart|pick|ankommen|kommen)$/;

export const turnedUp: Rule = {
  name: 'turned-up',
  says: 'Parts have arrived, back on it: what stood still goes on.',
  read: (clause) => {
    if (!hasCue(clause, 'resume')) return undefined;
    const cues = clause.pieces.flatMap((piece) => piece.cues);
    const inside = (at: number) =>
      cues.some((cue) => cue.name === 'resume' && cue.from <= at && at < cue.to);
    const other = verbsOf(clause).some(
      (verb) => verb.form === 'past' && !inside(verb.at) && !ARRIVE.test(verb.lemma),
    );
    // "Hoses back on" is their fitting; "back on the hoses" is going on with it.
    const back = clause.pieces.some((piece) =>
      piece.cues.some(
        (cue) =>
          cue.name === 'resume' &&
          piece.tokens[cue.from]?.word === 'back' &&
          cue.from > piece.from &&
          (cue.to - cue.from === 2 || piece.tokens[cue.from - 1]?.entry?.plan === true),
      ),
    );
    const sized = figuresOf(clause).some((figure) => figure.kind === 'quantity');
    return other || back || sized ? undefined : { kind: 'resumed' };
  },
};

export const examples: Examples = {
  yes: ['washers turned up', 'new gasket has arrived'],
  no: ['rocker cover back on', 'return line back on with new washers'],
  ask: [],
  also: ['moved', 'started', 'said-in-the-past'],
};
