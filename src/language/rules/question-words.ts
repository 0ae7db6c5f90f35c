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

const ASKING =
  /^(is|are|has|was|were|wurde|wurden|kann|können|muss|müssen|soll|sollen|darf|dürfen)$/;

/** "Ist Pratze 3 fest": the verb first and what it speaks of behind it make a question. */
function verbFirst(clause: Clause, at: number): boolean {
  const piece = clause.pieces[0];
  if (piece?.joint !== '' || !ASKING.test(piece.tokens[at]?.word ?? '')) return false;
  const next = piece.tokens[at + 1];
  if (!next || at + 1 >= piece.to) return false;
  return (
    /^(the|all|both|a|es|sie|das|jemand|denn|auch|bei|an|am|in|zyl|zylinder)$/.test(next.word) ||
    next.entry?.plan === true ||
    next.kind === 'number' ||
    (next.capital === true && next.entry?.forms.includes('past') !== true)
  );
}

export const questionWords: Rule = {
  name: 'question-words',
  says: 'A sentence that begins like a question is one, even without its mark.',
  read: (clause, tongue) => {
    const at = firstWord(clause);
    const start = startOf(clause);
    if (tongue.pack.verbLast && verbFirst(clause, at)) return { kind: 'asks' };
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
