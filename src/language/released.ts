// "Looked at it, released for first start", "hub check released": a hold point is released by a word in passing.

import type { Act } from '../../shared/reading.ts';
import { signsAgainst, speaksAgainst } from './against.ts';
import { type Clause, endOf, figuresOf, partNamed, startOf, wordsOf } from './clause.ts';
import { wantedOf } from './clause-acts/wanted.ts';
import type { ReadContext } from './context.ts';
import type { Lexicon } from './lexicon.ts';
import type { StepPhrases } from './match/phrases.ts';
import { placesSaid } from './match/places-said.ts';
import { rankSteps } from './match/score.ts';
import type { Message } from './message.ts';
import { MAY_NAME_PART } from './thresholds.ts';

const RELEASED: ReadonlySet<string> = new Set(['released', 'freigegeben']);

/** What is released is no work of the hands: everything against a report speaks against it. */
const AGAINST = signsAgainst();

const holds = (step: StepPhrases): boolean => step.step?.hold !== undefined;

/** "Released for first start": for the step that waits for the hold point. */
const waitsFor = (step: StepPhrases | undefined, hold: StepPhrases, clause: Clause): boolean =>
  (step?.step?.after ?? []).includes(hold.id) &&
  clause.pieces.some((piece) =>
    piece.tokens
      .slice(piece.from, piece.to)
      .some(
        (token, i, all) =>
          /^(for|to|zum|zur|für)$/.test(token.word) && RELEASED.has(all[i - 1]?.word ?? ''),
      ),
  );

/** The hold point the words name; "other" where they name something that is itself let go, such as a brake. */
function holdOf(
  clause: Clause,
  message: Message,
  lexicon: Lexicon,
  focus: StepPhrases | undefined,
): StepPhrases | 'other' | undefined {
  const wanted = wantedOf(clause);
  const named = partNamed(wanted, MAY_NAME_PART);
  const steps = message.tongue.steps;
  if (!named) {
    if (wanted.unknown > 0) return 'other';
    if (focus && holds(focus)) return focus;
    const all = steps.filter(holds);
    return all.length === 1 ? all[0] : undefined;
  }
  const [best] = rankSteps(wanted, message.tongue, lexicon);
  const letsGo = best?.step.phrases.some((phrase) =>
    phrase.classes.some((one) => one === 'release' || one === 'relieve' || one === 'apply'),
  );
  if (best && letsGo && !holds(best.step) && best.action >= 0.75) return 'other';
  const bare = { ...wanted, classes: [], lemmas: [] };
  const ranked = rankSteps(bare, message.tongue, lexicon, 12);
  const hold = ranked.find((one) => holds(one.step));
  const rival = ranked.find((one) => one !== hold);
  // The words must be the hold point's own: "brake released" is a brake.
  const own =
    hold !== undefined &&
    (hold.score > (rival?.score ?? 0) + 0.01 || waitsFor(rival?.step, hold.step, clause));
  return own && hold.part >= 0.4 ? hold.step : 'other';
}

/**
 * Reads a clause that releases a hold point. Who may release is for the desk to say.
 *
 * @param focus the step spoken of before, for "released" without a word of what
 */
export function readRelease(
  clause: Clause,
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
  focus: StepPhrases | undefined,
): Act | undefined {
  if (!wordsOf(clause).some((word) => RELEASED.has(word))) return undefined;
  if (clause.question || speaksAgainst(clause, AGAINST)) return undefined;
  const hold = holdOf(clause, message, lexicon, focus);
  if (hold === 'other' || hold === undefined) return undefined;
  const places = placesSaid(hold, figuresOf(clause), lexicon, context.positions);
  return {
    kind: 'command',
    command: 'release',
    step: hold.id,
    positions: [...places.positions],
    assumed: [...places.assumed],
    span: [
      message.tokens[startOf(clause)]?.from ?? 0,
      message.tokens[endOf(clause) - 1]?.to ?? message.raw.length,
    ],
  };
}

/** Who releases a hold point does not report it once more: "looked at it, released". */
export const withoutOwnReport = (acts: readonly Act[]): Act[] => {
  const released = acts.filter((act) => act.kind === 'command' && act.command === 'release');
  return acts.filter(
    (act) =>
      (act.kind !== 'done' && act.kind !== 'unsure') ||
      !released.some((one) => one.step !== undefined && one.step === act.step),
  );
};
