// What the tokens of a message were understood as: in a figure, in a sign, beside what is left out, or by the way.
import type { Message } from '../message.ts';

export type Word = Message['tokens'][number];

export type Explained = {
  /** In a figure with a unit or a time. */
  readonly figures: ReadonlySet<Word>;
  /** In a sign. */
  readonly signs: ReadonlySet<Word>;
  /** In words of courtesy or asking that stand in the middle, where they mean nothing. */
  readonly adrift: ReadonlySet<Word>;
  /** Beside a place that is left out. */
  readonly leftOut: ReadonlySet<Word>;
  /** In a piece that names and reports nothing: "morning campers". */
  readonly aside: ReadonlySet<Word>;
};

/** What the tokens of a message were understood as. */
export function explained(message: Message): Explained {
  const sets = {
    figures: new Set<Word>(),
    signs: new Set<Word>(),
    adrift: new Set<Word>(),
    leftOut: new Set<Word>(),
    aside: new Set<Word>(),
  };
  const put = (into: Set<Word>, tokens: readonly Word[], from: number, to: number) => {
    for (let k = from; k < to; k += 1) {
      const token = tokens[k];
      if (token) into.add(token);
    }
  };
  for (const figure of message.figures)
    if (figure.kind !== 'positions') put(sets.figures, message.tokens, figure.from, figure.to);
  for (const clause of message.clauses)
    for (const piece of clause.pieces) {
      for (const cue of piece.cues) {
        const adrift = /^(question-tag|yes|mistake)$/.test(cue.name) && cue.to < piece.to;
        put(adrift ? sets.adrift : sets.signs, piece.tokens, cue.from, cue.to);
      }
      const says = piece.parts.size + piece.verbs.length + piece.moved.length;
      const called = piece.tick || piece.cues.some((cue) => cue.name === 'finished');
      if (says + piece.figures.length === 0 && !called)
        put(sets.aside, piece.tokens, piece.from, piece.to);
      if (piece.excepted.length > 0) put(sets.leftOut, piece.tokens, piece.from, piece.to);
    }
  return sets;
}
