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

/** "Hasn't been tested", "did 1 and 2", "had the injectors out by ten": the subject is left out, nothing is asked. */
function states(clause: Clause, at: number): boolean {
  const piece = clause.pieces[0];
  const [first, next, then] = piece?.tokens.slice(at, at + 3) ?? [];
  if (!piece || !first || !next || clause.question) return false;
  if (/^(has|have|is|was|were|are)$/.test(first.word) && next.word === 'not')
    return then?.word === 'been' || then?.entry?.forms.includes('past') === true;
  const place = piece.figures.some((one) => one.kind === 'positions' && one.from === at + 1);
  return first.word === 'did' && next.kind === 'number' && place;
}

export const questionWords: Rule = {
  name: 'question-words',
  says: 'A sentence that begins like a question is one, even without its mark.',
  read: (clause, tongue) => {
    const at = firstWord(clause);
    const piece = clause.pieces[0];
    const [word, behind] = piece?.tokens.slice(at, at + 2).map((token) => token.word) ?? [];
    // "What a state under there" wonders, "…, is good" leaves its subject out.
    if (word === 'what' && /^(a|an)$/.test(behind ?? '')) return undefined;
    const aside = piece?.joint === ',' && /^(is|was|are|were)$/.test(word ?? '');
    if (
      aside &&
      /^(good|ok|okay|fine|not|done|finish|finished|all|no|stay|out|in|on|off)$/.test(behind ?? '')
    )
      return undefined;
    const start = startOf(clause);
    if (tongue.pack.verbLast && verbFirst(clause, at)) return { kind: 'asks' };
    const found = clause.pieces[0]?.cues.some(
      (cue) => cue.name === 'question-start' && (cue.from === at || cue.from === start),
    );
    if (found) return states(clause, at) ? undefined : { kind: 'asks' };
    // "Second check, who is free": the question stands behind what it is about.
    const behindIt = clause.pieces
      .slice(1)
      .some((one) => /^(who|whose|where|why|wer|wo|warum)$/.test(one.tokens[one.from]?.word ?? ''));
    return behindIt ? { kind: 'asks' } : undefined;
  },
};

export const examples: Examples = {
  yes: [
    'what torque for stage 2',
    'has anyone entered the code for 5',
    'is cyl 3 clamped',
    'leak check, who did it',
  ],
  no: ['cyl 3 is clamped'],
  ask: [],
};
