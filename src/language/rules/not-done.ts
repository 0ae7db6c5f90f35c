// Not, never, yet to, without: it has not been done.
import { type Clause, cuesOf, endOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

/** "No oil in it" denies a step; "no slip", "no bother" do not. */
const namesPart = (clause: Clause, from: number) =>
  clause.pieces.some((piece) =>
    piece.tokens
      .slice(from, Math.min(from + 3, piece.to))
      .some((token) => token.entry?.plan === true),
  );

export const notDone: Rule = {
  name: 'not-done',
  says: 'Not, never, yet to, without: it has not been done.',
  read: (clause) => {
    const cues = cuesOf(clause);
    if (cues.length === 0)
      return clause.pieces.some((piece) => piece.cross) ? { kind: 'not-done' } : undefined;
    // "No pedal", "not holding" say what is wrong.
    const wrong = cues.filter((cue) => cue.name === 'defect' && cue.to - cue.from > 1);
    const harmless = [...cues.filter((cue) => cue.name === 'harmless-no'), ...wrong];
    const not = cues.find(
      (cue) =>
        (cue.name === 'not' ||
          cue.name === 'not-yet' ||
          cue.name === 'no' ||
          cue.name === 'none') &&
        !harmless.some((one) => one.from <= cue.from && cue.from < one.to) &&
        (cue.name !== 'no' || namesPart(clause, cue.to)),
    );
    // "It linked no more": behind its verb it denies.
    const gone = harmless.some(
      (one) =>
        one.to === endOf(clause) && clause.pieces.at(-1)?.tokens[one.to - 1]?.word === 'more',
    );
    return not || gone || clause.pieces.some((piece) => piece.cross)
      ? { kind: 'not-done' }
      : undefined;
  },
};

export const examples: Examples = {
  yes: ['not torqued yet', 'codes not done', 'coolant isnt drained'],
  no: ['no problem, coolant drained'],
  ask: [],
};
