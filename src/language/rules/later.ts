// Later, tomorrow, after dinner, next: it is still to come.
import { cueOf, hasCue, startOf, textOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';
import type { Token } from '../tidy/token.ts';

/** The sign of an arrow with "soon" under it. */
const isSoonSign = (token: Token) => token.kind !== 'word' && /^[🔜⏭]/u.test(token.word);

export const later: Rule = {
  name: 'later',
  says: 'Later, tomorrow, after dinner, next: it is still to come.',
  read: (clause) => {
    // "It is safe to open the pipes" says what may be done.
    if (/\b(?:it|that) is (?:now )?(?:safe|ok|fine|clear) to\b/.test(textOf(clause)))
      return { kind: 'nothing' };
    if (hasCue(clause, 'next') || hasCue(clause, 'ready')) return { kind: 'intends' };
    if (clause.pieces.some((piece) => piece.tokens.slice(piece.from, piece.to).some(isSoonSign)))
      return { kind: 'intends' };
    const cue = cueOf(clause, 'later');
    if (!cue) return undefined;
    const word = clause.pieces[0]?.tokens[cue.from]?.word;
    // "then torqued" tells what came next; "then torque" what comes next.
    if (word === 'then') return undefined;
    const past = clause.pieces.some((piece) => piece.verbs.some((verb) => verb.form === 'past'));
    return past && word === 'after' && cue.from > startOf(clause)
      ? { kind: 'done' }
      : { kind: 'intends' };
  },
};

export const examples: Examples = {
  yes: ['cyl 3 clamp after dinner', 'ready to torque the clamps', 'pipe nuts next'],
  no: ['pipe nuts done'],
  ask: [],
};
