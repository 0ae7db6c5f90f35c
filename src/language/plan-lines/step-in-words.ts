// A clause that is the plan's own words for a step, where nothing in its sentence speaks against it.

import { signsAgainst } from '../against.ts';
import type { Clause } from '../clause.ts';
import type { Lexicon } from '../lexicon.ts';
import type { StepPhrases } from '../match/phrases.ts';
import { soleTaker } from '../match/sole-taker.ts';
import type { Message } from '../message.ts';
import type { CueName } from '../pack.ts';
import { strangeFigure } from './line-acts.ts';
import {
  FILL,
  type Found,
  LONGEST,
  longestIn,
  QUOTE,
  saidBy,
  stepOf,
  titleWordsOf,
  wordsOf,
} from './lines.ts';

/** A plan's words may themselves say that nothing is wrong: "no leaks". */
const AGAINST: ReadonlySet<CueName> = new Set(
  signsAgainst('no', 'none', 'defect', 'ready', 'must'),
);

/** Words that may stand beside any workshop's words for a step: "casing clean, no cracks in it". */
const BESIDE =
  /^(clean|good|fine|lovely|in|on|at|of|under|inside|anywhere|ground|floor|deck|no|knocks|noise|noises|rattles|smoke|sauber|gut|am|im|an|of)$/;

/** "Road test done, running nicely": words that name nothing of a step go on about what was spoken of before. */
function ofOther(clause: Clause, found: Found, lexicon: Lexicon): boolean {
  const step = found.lines[0]?.step ?? '';
  if (clause.inherited.size === 0) return false;
  const own = stepOf(step, lexicon)?.phrases ?? [];
  if (own.some((phrase) => [...phrase.parts.keys()].some((root) => clause.inherited.has(root))))
    return false;
  const named = titleWordsOf(step, lexicon);
  return !found.lines.some((line) => line.words.some((word) => named.has(word)));
}

/** The step whose own phrase a clause is, if nothing in its sentence denies, doubts, intends or asks. */
export function stepInPlanWords(
  clause: Clause,
  message: Message,
  lexicon: Lexicon,
): StepPhrases | undefined {
  if (clause.question || clause.pieces[0]?.joint === ':' || message.raw.length > 4 * LONGEST)
    return undefined;
  if (!saidBy(message, lexicon).phrase || QUOTE.test(message.raw)) return undefined;
  const tokens = message.tokens;
  const from = clause.pieces[0]?.from ?? 0;
  const to = clause.pieces.at(-1)?.to ?? 0;
  if (to - from > 16) return undefined;
  const start = tokens[from]?.from ?? 0;
  const end = tokens[to - 1]?.to ?? 0;
  const words = wordsOf(message.raw.slice(start, end)).map((one) => ({
    ...one,
    from: one.from + start,
    to: one.to + start,
  }));
  const found = longestIn(words, lexicon, false);
  if (!found || new Set(found.lines.map((one) => one.step)).size !== 1) return undefined;
  const usual = found.lines.every((line) => line.usual);
  if (usual && ofOther(clause, found, lexicon)) return undefined;
  const named = titleWordsOf(found.lines[0]?.step ?? '', lexicon);
  const figures = clause.pieces.flatMap((piece) => piece.figures);
  const only = words.every(
    (one) =>
      (one.from >= found.from && one.to <= found.to) ||
      FILL.test(one.word) ||
      (usual && BESIDE.test(one.word)) ||
      named.has(one.word) ||
      figures.some((figure) => figure.at[0] <= one.from && one.to <= figure.at[1]),
  );
  if (!only) return undefined;
  const denied = message.clauses.some(
    (other) =>
      other.sentence === clause.sentence &&
      other.pieces.some((piece) =>
        piece.cues.some(
          (cue) =>
            AGAINST.has(cue.name) &&
            !(
              (tokens[cue.from]?.from ?? 0) >= found.from &&
              (tokens[cue.to - 1]?.to ?? 0) <= found.to
            ),
        ),
      ),
  );
  const step = denied ? undefined : stepOf(found.lines[0]?.step ?? '', lexicon);
  if (!step || !strangeFigure(step, figures)) return step;
  // "She fired up, 28.1 volts": the figure is of the only step that asks for it.
  const sized = figures.filter((figure) => figure.kind === 'quantity');
  return found.words > 1 && soleTaker(sized, message.tongue.steps) ? step : undefined;
}
