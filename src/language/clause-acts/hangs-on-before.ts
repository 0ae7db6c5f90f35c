// Clauses that have no stance of their own: what was denied, asked or meant before them holds for them too.
import { type Clause, hasCue, partNamed } from '../clause.ts';
import type { Message } from '../message.ts';

/** "Not bolts and nuts checked", "once bolts and nuts are checked": what is denied of the one holds for the other. */
export function sharesDenial(clause: Clause, message: Message): boolean {
  if (!/^(and|&|\+|or|und|oder)$/.test(clause.pieces[0]?.joint ?? '')) return false;
  const before = message.clauses[message.clauses.indexOf(clause) - 1];
  return (
    before !== undefined &&
    before.sentence === clause.sentence &&
    (hasCue(before, 'not') || hasCue(before, 'condition') || hasCue(before, 'wish')) &&
    before.pieces.every(
      (piece) => piece.verbs.length === 0 && piece.moved.length === 0 && piece.figures.length === 0,
    )
  );
}

/** The clause before and what it was. */
export type Held = {
  readonly clause: Clause | undefined;
  readonly kind: string;
};

/** "Is the box out and down", "will be out and down": what is only joined on has no stance of its own. */
export const goesOnFrom = (clause: Clause, message: Message, held: Held): boolean =>
  /^(and|&|\+|or|und|oder)$/.test(clause.pieces[0]?.joint ?? '') &&
  held.clause !== undefined &&
  held.clause.sentence === clause.sentence &&
  message.clauses.indexOf(clause) - message.clauses.indexOf(held.clause) === 1 &&
  /^(asks|intends|unsure|blocked|nothing)$/.test(held.kind) &&
  !hasCue(clause, 'finished') &&
  !clause.pieces.some(
    (piece) =>
      partNamed(piece) ||
      piece.tokens
        .slice(piece.from, piece.to)
        .some((token) => /^(i|we|it|they|she|he|ich|wir|es|sie|er)$/.test(token.word)),
  );

/** "Once the engine as been started": a verb alone behind "as" hangs on what was said before it. */
export const hangsOnAs = (clause: Clause): boolean => {
  const piece = clause.pieces[0];
  return (
    piece?.joint === 'as' &&
    clause.pieces.every((one) => one.parts.size === 0) &&
    (/^(been|is|are|was|were)$/.test(piece.tokens[piece.from]?.word ?? '') ||
      piece.tokens[piece.from]?.entry?.forms.includes('past') === true)
  );
};

/** "Nobody may press the pedal while the pads are out": how it stands meanwhile is no report. */
export const isMeanwhile = (clause: Clause): boolean =>
  /^(while|whilst|während|solange)$/.test(clause.pieces[0]?.joint ?? '') &&
  clause.pieces.every((piece) => piece.verbs.every((verb) => verb.form !== 'past'));

/** "Not drained because the engine is still hot": the reason is no report of its own. */
export const givesReason = (clause: Clause): boolean =>
  /^(because|since|weil|da|denn|cos)$/.test(clause.pieces[0]?.joint ?? '');

/** "Nut 3 is tight and won't come off": tight is what is in the way, nobody has tightened it. */
export const stuckInstead = (clause: Clause, message: Message): boolean =>
  clause.pieces.every((piece) => piece.moved.every((one) => one === 'tighten')) &&
  message.clauses.some(
    (other) =>
      other !== clause &&
      hasCue(other, 'cannot') &&
      other.pieces.every((piece) => piece.parts.size === 0),
  );
