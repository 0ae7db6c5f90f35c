// Pieces that say nothing alone belong to the one before or behind; pieces without a part take the one before.
import { type Clause, newMemo, type Piece, partNamed } from '../clause.ts';
import { TOUCHES_PART } from '../thresholds.ts';
import { forwardParts, partsOf } from './lend-parts.ts';
import { TO_COME } from './new-subject.ts';
import { doubtsOnly, says } from './says.ts';
import { toldAsPast } from './subordinate.ts';

/** A condition that is still to come true. */
const isOpen = (one: Piece | undefined): boolean =>
  one?.hangs === 'condition' && !toldAsPast(one.tokens, one.from, one.to);

/** Whether a condition right beside a piece says when it is to be: "once it is cold I drain it". */
function isUnder(piece: Piece, pieces: readonly Piece[]): boolean {
  if (piece.hangs || pieces.length === 1) return false;
  const at = pieces.indexOf(piece);
  const behind = pieces[at + 1];
  return (at === 1 && isOpen(pieces[0])) || (behind?.joint === '' && isOpen(behind));
}

/** "Filled till it ran out the hole, twelve litres": how far it was filled; a figure in it or behind it is that of the filling. */
const tillFull = (piece: Piece, reported: Clause): boolean =>
  /^(till|until|bis)$/.test(piece.tokens[piece.from]?.word ?? '') &&
  piece.verbs.some((verb) => verb.form === 'past') &&
  reported.pieces.some((one) => one.verbs.some((verb) => verb.form === 'past')) &&
  reported.pieces.every((one) => one.figures.every((figure) => figure.kind !== 'quantity'));

const NO_PARTS: ReadonlyMap<string, number> = new Map();

/** Pieces that say nothing alone belong to the one before or behind; pieces without a part take the one before. */
export function joinPieces(
  pieces: readonly Piece[],
  sentence: number,
  question: boolean,
): Clause[] {
  const clauses: Clause[] = [];
  let waiting: Piece[] = [];
  const push = (group: readonly Piece[], lent: Piece | undefined) => {
    const before = clauses.at(-1);
    const named = group.some((piece) => partNamed(piece, TOUCHES_PART));
    const inherits = !named && before !== undefined;
    clauses.push({
      pieces: group,
      inherited: inherits ? partsOf(before) : NO_PARTS,
      around: before ? partsOf(before) : NO_PARTS,
      shared: [],
      lent,
      memo: newMemo(),
      sentence,
      question,
      ...(group.length === 1 && group[0]?.hangs && pieces.length > 1
        ? { hangs: group[0].hangs }
        : {}),
      ...(group.some((piece) => isUnder(piece, pieces)) ? { under: true as const } : {}),
    });
  };
  pieces.forEach((piece, index) => {
    const reported = clauses.at(-1);
    if (reported && waiting.length === 0 && tillFull(piece, reported)) {
      const { hangs: _, ...rest } = piece;
      const only = { ...rest, verbs: [], moved: [], unknown: [], parts: NO_PARTS, cues: [] };
      clauses[clauses.length - 1] = { ...reported, pieces: [...reported.pieces, only] };
      return;
    }
    if (piece.hangs && pieces.length > 1) {
      push([piece], undefined);
      return;
    }
    const speaks = says(piece);
    const speaksLater = index + 1 < pieces.length && pieces.slice(index + 1).some(says);
    if (doubtsOnly(piece)) {
      // "Ich glaube, die Pratzen sind fest", "clamps done, I think": the doubt is about its neighbours.
      const last = clauses.at(-1);
      if (last) clauses[clauses.length - 1] = { ...last, pieces: [...last.pieces, piece] };
      if (speaksLater || !last) waiting.push(piece);
      return;
    }
    if (index > 0 && piece.cues.some((cue) => cue.name === 'private') && piece.parts.size === 0) {
      if (speaks && waiting.length === 0) push([piece], undefined);
      return;
    }
    if (speaks) {
      flush(piece);
      return;
    }
    if (
      piece.parts.size === 0 &&
      piece.figures.length === 0 &&
      piece.unknown.length > 0 &&
      index > 0
    )
      return;
    // "Bolts 30, after I make 65": a figure that is still to come is no second figure of what is done.
    const toCome = piece.cues.some((cue) => /^(condition|continuing|future|later)$/.test(cue.name));
    if (toCome && piece.figures.length > 0 && waiting.length === 0 && clauses.length > 0) {
      push([piece], undefined);
      return;
    }
    const before = clauses.at(-1);
    const onlyFigures = piece.parts.size === 0;
    if (
      piece.parts.size === 0 &&
      piece.figures.length === 0 &&
      piece.unknown.length === 0 &&
      speaksLater
    ) {
      waiting.push(piece);
      return;
    }
    if (
      before &&
      waiting.length === 0 &&
      (!speaksLater || (onlyFigures && takesFigures(before, piece)))
    ) {
      clauses[clauses.length - 1] = { ...before, pieces: [...before.pieces, piece] };
      return;
    }
    waiting.push(piece);
  });
  if (waiting.length > 0) {
    if (
      waiting.some(
        (piece) => piece.parts.size > 0 || piece.figures.length > 0 || piece.unknown.length > 0,
      )
    )
      push(waiting, undefined);
    waiting = [];
  }
  return forwardParts(clauses);

  /** A speaking piece closes a clause; subjects that waited for their verb get it lent, each by itself. */
  function flush(piece: Piece): void {
    const lists = waiting.filter((one) => one.parts.size > 0);
    const others = waiting.filter((one) => one.parts.size === 0);
    waiting = [];
    if (lists.length > 0 && laterElsewhere(lists, piece)) {
      push([...lists, ...others], undefined);
      push([piece], undefined);
      return;
    }
    if (
      piece.parts.size > 0 &&
      lists.length > 0 &&
      piece.joint !== ':' &&
      !lists.some((one) => one.joint === ':')
    ) {
      for (const one of lists) push([one], piece);
      push([...others, piece], undefined);
      return;
    }
    push([...lists, ...others, piece], undefined);
  }
}

/** "Wheel nuts fl fr 600, rl rr tomorrow": a figure at one place, and another place that is still to come. */
function laterElsewhere(lists: readonly Piece[], piece: Piece): boolean {
  const places = (one: Piece) => one.figures.some((figure) => figure.kind === 'positions');
  return (
    piece.parts.size === 0 &&
    places(piece) &&
    piece.verbs.length === 0 &&
    piece.cues.some((cue) => TO_COME.has(cue.name)) &&
    lists.some(places) &&
    lists.some((one) => one.figures.some((figure) => /^(quantity|stage|number)$/.test(figure.kind)))
  );
}

/** Bare figures behind a comma belong to what was said before them, unless it has its figures already. */
function takesFigures(clause: Clause, piece: Piece): boolean {
  const have = new Set(clause.pieces.flatMap((one) => one.figures.map((figure) => figure.kind)));
  return (
    piece.figures.every((figure) => figure.kind === 'quantity' || !have.has(figure.kind)) &&
    piece.figures.length > 0 &&
    /^(,|then|and|&|\+|plus|\(|:|-|)$/.test(piece.joint) &&
    piece.figures.every((f) => f.kind !== 'positions' || !have.has('positions'))
  );
}
