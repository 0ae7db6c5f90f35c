// "And 5", "right too", "brew first, then the clamps": what a clause without a verb says by what stands around it.

import { signsAgainst, speaksAgainst } from '../against.ts';
import { type Clause, hasCue, namesPart, partNamed } from '../clause.ts';
import type { Message } from '../message.ts';
import { isTalk } from '../rules/private-talk.ts';
import type { Stance } from '../stance.ts';
import type { Focus } from './so-far.ts';

/** "Leak check, then road test, then home": work named in its order, and nothing of it said to be done. */
export function isInTurn(clause: Clause, message: Message): boolean {
  const then = /^(then|and then|dann|danach)$/;
  const ordered = message.clauses.some((one) => one.pieces.some((piece) => then.test(piece.joint)));
  return (
    ordered &&
    message.words.length <= 16 &&
    namesPart(clause) &&
    message.clauses.every(
      (one) =>
        !one.question &&
        !hasCue(one, 'finished') &&
        !hasCue(one, 'good') &&
        one.pieces.every(
          (piece) =>
            !piece.tick &&
            piece.moved.length === 0 &&
            piece.verbs.every((verb) => verb.form === 'base') &&
            piece.figures.every((figure) => !/^(quantity|number|count|code)$/.test(figure.kind)),
        ),
    )
  );
}

/** "Right" may be the place that is meant. */
const AGAINST_THE_SAME = signsAgainst('question-tag');

/** "And 5", "right too", "same on the other side": the same again, at another place. */
export function ellipsis(
  clause: Clause,
  message: Message,
  focus: Focus | undefined,
): Stance | undefined {
  if (isTalk(clause)) return undefined;
  if (
    !focus ||
    clause.question ||
    message.words.length > 7 ||
    !/^(done|partial|started|intends|not-done|unsure)$/.test(focus.kind)
  )
    return undefined;
  const silent = clause.pieces.every(
    (piece) =>
      piece.moved.length === 0 &&
      piece.verbs.length === 0 &&
      !partNamed(piece) &&
      piece.unknown.length === 0,
  );
  const place =
    clause.pieces.some((piece) =>
      piece.figures.some((figure) => /^(positions|all|rest)$/.test(figure.kind)),
    ) ||
    hasCue(clause, 'other-side') ||
    hasCue(clause, 'the-lot');
  const denied = speaksAgainst(clause, AGAINST_THE_SAME);
  const inFigure = (at: number) =>
    clause.pieces.some((piece) => piece.figures.some((one) => one.from <= at && at < one.to));
  const timed = clause.pieces.some((piece) =>
    piece.tokens.some(
      (token, at) =>
        at >= piece.from &&
        at < piece.to &&
        !inFigure(at) &&
        /^(am|pm|tmrw|tmw|tmro|tmoro|soon)$/.test(token.word),
    ),
  );
  if (silent && place && !denied && timed) return { kind: 'intends', rule: 'later' };
  return silent && place && !denied
    ? {
        kind: focus.kind === 'partial' || focus.kind === 'unsure' ? 'done' : focus.kind,
        rule: 'and-the-same',
      }
    : undefined;
}
