// A sentence that begins like a question is one, even without its mark.
import { type Clause, startOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

const OPENERS =
  /^(ok|so|and|but|right|hey|hi|lads|mate|guys|sorry|quick|one|,|please|boss|anyone|hello|morning|also|just|well|er|cheers|oi|und|also|hallo|moin|jungs|chef|mal)$/;

function firstWord(clause: Clause): number {
  const piece = clause.pieces[0];
  let at = startOf(clause);
  while (piece && at < piece.to - 1 && OPENERS.test(piece.tokens[at]?.word ?? '')) at += 1;
  return at;
}

export const questionWords: Rule = {
  name: 'question-words',
  says: 'A sentence that begins like a question is one, even without its mark.',
  read: (clause) => {
    const at = firstWord(clause);
    const start = startOf(clause);
    const found = clause.pieces[0]?.cues.some(
      (cue) => cue.name === 'question-start' && (cue.from === at || cue.from === start),
    );
    return found ? { kind: 'asks' } : undefined;
  },
};

export const examples: Examples = {
  yes: ['what torque for stage 2', 'has anyone entered the code for 5', 'is cyl 3 clamped'],
  no: ['cyl 3 is clamped'],
  ask: [],
};
