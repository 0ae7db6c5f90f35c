// Whether a message is mostly about something else than the plan, and which of its clauses speak plainly all the same.

import type { Clause } from './clause.ts';
import type { Message } from './message.ts';
import { NAMES_PART, STRANGE_FREE, STRANGE_SHARE } from './thresholds.ts';

/** "Wheel off front left, weighs more than my mother in law": a plain report beside a joke stays one. */
export const speaksPlainly = (clause: Clause, message: Message): boolean =>
  clause.pieces.every(
    (piece) =>
      piece.unknown.length === 0 &&
      !piece.tokens.slice(piece.from, piece.to).some((token) => token.mended !== undefined),
  ) &&
  clause.pieces.some(
    (piece) =>
      [...piece.parts].some(
        ([root, value]) => value >= NAMES_PART && !message.tongue.common.has(root),
      ) ||
      (piece.parts.size > 0 &&
        piece.figures.some((figure) => figure.kind === 'positions' && !figure.bare)),
  );

/** Whether the words of a message are mostly about something else than the plan. */
export function isElsewhere(message: Message): 'mostly' | 'wholly' | undefined {
  // "Drained, me, not the bus": the writer speaks of himself.
  if (/,\s*me\b(?!\s+(?:and|too|or|mate)\b)/i.test(message.raw)) return 'wholly';
  let strange = 0;
  const home = new Set<string>();
  for (const clause of message.clauses) {
    for (const piece of clause.pieces) {
      strange += piece.unknown.length;
      for (const [root, value] of piece.parts) if (value >= NAMES_PART) home.add(root);
    }
  }
  return strange > STRANGE_FREE && strange > home.size * STRANGE_SHARE ? 'mostly' : undefined;
}
