// "…, paint marked": fasteners that are finally tight and carry their mark. Kept as the note of the report.
import type { Act } from '../../shared/reading.ts';
import { type Clause, endOf, hasCue, startOf } from './clause.ts';
import type { Lexicon } from './lexicon.ts';
import type { Message } from './message.ts';

const MARKED: ReadonlySet<string> = new Set(
  'marked painted markiert angezeichnet gekennzeichnet'.split(' '),
);

function saysMarked(clause: Clause): boolean {
  if (clause.question) return false;
  const says = clause.pieces.some((piece) =>
    piece.tokens.slice(piece.from, piece.to).some((token) => MARKED.has(token.word)),
  );
  if (!says) return false;
  return !(['not', 'not-yet', 'no', 'left-to-do', 'future', 'later', 'doubt'] as const).some(
    (name) => hasCue(clause, name),
  );
}

/** Adds the words of the mark to the last report before them whose step wants a paint mark. */
export function withPaintMarks(
  acts: readonly Act[],
  message: Message,
  lexicon: Lexicon,
): readonly Act[] {
  const marked = message.clauses.filter(saysMarked);
  if (marked.length === 0) return acts;
  const out = [...acts];
  for (const clause of marked) {
    const from = message.tokens[startOf(clause)]?.from ?? 0;
    const to = message.tokens[endOf(clause) - 1]?.to ?? 0;
    for (let i = out.length - 1; i >= 0; i -= 1) {
      const act = out[i];
      if (!act || (act.kind !== 'done' && act.kind !== 'partial') || act.span[0] > to) continue;
      const step = act.step === undefined ? undefined : lexicon.plan.stepById.get(act.step);
      if (step?.['paint-mark'] !== true || act.note !== undefined) break;
      out[i] = { ...act, note: message.raw.slice(from, to) };
      break;
    }
  }
  return out;
}
