// Parts and places that one clause lends to its neighbours.
import type { Clause } from '../clause.ts';
import type { Figure } from '../scan/figure.ts';
import { says } from './says.ts';

/** "5 not torqued yet, rest of the clamps done": what is denied first is named behind it. */
export function forwardParts(clauses: Clause[]): Clause[] {
  const [first, second] = clauses;
  if (
    !first ||
    !second ||
    first.inherited.size > 0 ||
    first.pieces.some((one) => one.parts.size > 0)
  )
    return clauses;
  const denied = first.pieces.some((one) =>
    one.cues.some((cue) => /^(not|not-yet|left-to-do)$/.test(cue.name)),
  );
  const placed = first.pieces.some((one) =>
    one.figures.some((figure) => figure.kind === 'positions' || figure.kind === 'left'),
  );
  const parts = partsOf(second);
  if (!denied || !placed || parts.size === 0) return clauses;
  return [{ ...first, inherited: parts }, ...clauses.slice(1)];
}

/** "I took the shield off, was I to count the screws?": only the second half asks. */
export function statedBefore(clauses: readonly Clause[]): readonly Clause[] {
  if (clauses.length < 2 || clauses[0]?.question !== true) return clauses;
  const asks = clauses.findIndex((clause) => {
    const piece = clause.pieces[0];
    return piece?.cues.some((cue) => cue.name === 'question-start' && cue.from === piece.from);
  });
  return clauses.map((clause, at) =>
    at < asks && isOwnPast(clause) ? { ...clause, states: true } : clause,
  );
}

/** "I took it off", "we have fitted the pump". */
function isOwnPast(clause: Clause): boolean {
  const piece = clause.pieces[0];
  if (!piece) return false;
  const at = piece.tokens
    .slice(piece.from, Math.min(piece.to, piece.from + 3))
    .findIndex((token) => /^(i|we)$/.test(token.word));
  if (at < 0) return false;
  const verb = piece.verbs[0];
  return verb?.form === 'past' && verb.at - piece.from - at <= 2;
}

const placesIn = (clause: Clause): readonly Figure[] =>
  clause.pieces.flatMap((piece) =>
    piece.figures.filter(
      (figure) =>
        (figure.kind === 'positions' && !(figure.bare && figure.queries.length === 1)) ||
        figure.kind === 'all',
    ),
  );

/** A clause without a place takes the one said before it in the sentence, else the one behind the whole sentence. */
export function sharePlaces(clauses: readonly Clause[]): readonly Clause[] {
  if (clauses.length < 2) return clauses;
  const last = clauses.at(-1);
  const trailing = last?.pieces.at(-1);
  const behind =
    trailing && trailing.parts.size === 0 && !says(trailing)
      ? placesIn({ ...last, pieces: [trailing] } as Clause)
      : [];
  let before: readonly Figure[] = [];
  return clauses.map((clause) => {
    const own = placesIn(clause);
    if (own.length > 0) {
      before = own;
      return clause;
    }
    // "Washers and injectors in 1 to 3": what lends its verb lends its places.
    const lent = clause.lent ? placesIn({ ...clause, pieces: [clause.lent] }) : [];
    const shared = before.length > 0 ? before : lent.length > 0 ? lent : behind;
    return shared.length > 0 ? { ...clause, shared } : clause;
  });
}

export const partsOf = (clause: Clause): ReadonlyMap<string, number> => {
  const own = clause.pieces.flatMap((piece) => [...piece.parts]);
  return own.length > 0 ? new Map(own) : clause.inherited;
};
