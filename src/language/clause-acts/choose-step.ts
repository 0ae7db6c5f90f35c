// The step a clause is about, or those between which it does not decide.
import type { Weight } from '../../../shared/plan.ts';
import type { Lexicon } from '../lexicon.ts';
import { quantityFit } from '../match/figure-fit.ts';
import type { StepPhrases } from '../match/phrases.ts';
import { type Match, rankSteps, type Wanted } from '../match/score.ts';
import { soleTaker } from '../match/sole-taker.ts';
import type { Message } from '../message.ts';
import type { Stance } from '../stance.ts';
import { ACCEPT, ASK_FROM, CANDIDATES, LEAD } from '../thresholds.ts';
import { shownBy, takesFigure } from './choose-by-figure.ts';
import { ofTheirPart } from './choose-fasteners.ts';
import { withoutPart } from './choose-without-part.ts';
import type { Focus } from './so-far.ts';

export const weightOf = (step: StepPhrases): Weight => step.step?.weight ?? 'routine';

export type ChosenStep = {
  step: StepPhrases;
  assumed: string[];
  fromContext: boolean;
  /** A figure that only this step has names it as well as words do. */
  byFigure?: true;
};

export type Choice = ChosenStep | { several: readonly Match[] } | undefined;

/** The step a clause is about, or those between which it does not decide. */
export function chooseStep(
  wanted: Wanted,
  message: Message,
  lexicon: Lexicon,
  focus: Focus | undefined,
  stance: Stance,
  around: ReadonlyMap<string, number>,
  inherits: boolean,
): Choice {
  const first = rankSteps(wanted, message.tongue, lexicon);
  const named = wanted.parts.size > 0;
  const shown = shownBy(wanted, focus);
  if (shown) return { step: shown, assumed: [], fromContext: false, byFigure: true };
  const torn =
    first[0] !== undefined &&
    first[1] !== undefined &&
    first[0].score - first[1].score < LEAD[weightOf(first[0].step)];
  const theirs = ofTheirPart(wanted, focus, stance, message);
  if (theirs) return { step: theirs, assumed: [], fromContext: false };
  const ranked =
    named && around.size > 0 && (torn || (first[0]?.score ?? 0) < ACCEPT.routine)
      ? withAround(first, wanted, around, message, lexicon)
      : first;
  const best = ranked[0];
  if (!named) return withoutPart(ranked, wanted, focus, stance, message);
  if (!best || best.score < ASK_FROM) return undefined;
  const sized = takesFigure(ranked, wanted, stance.kind === 'finding' ? 0.35 : 0.08);
  if (sized) return { step: sized, assumed: [], fromContext: false };
  const sole = figureElsewhere(best, wanted, message);
  if (sole) return { step: sole, assumed: [], fromContext: false, byFigure: true };
  const graver = stance.kind === 'done' || stance.kind === 'partial';
  const weight = weightOf(best.step);
  const second = ranked[1];
  const lead = second ? best.score - second.score : 1;
  const accept = graver ? ACCEPT[weight] : ASK_FROM;
  if (
    inherits &&
    focus &&
    graver &&
    ranked.some(
      (one) => one.step.id === focus.step.id && best.score - one.score < 0.16 && one.action >= 0.5,
    )
  )
    return { step: focus.step, assumed: [], fromContext: false };
  if (best.score >= accept && lead >= (graver ? LEAD[weight] : 0.01))
    return { step: best.step, assumed: [], fromContext: false };
  const close = ranked.filter((one) => best.score - one.score < (inherits ? 0.16 : LEAD[weight]));
  const inFocus = close.find((one) => one.step.id === focus?.step.id);
  if (inFocus && best.score >= accept)
    return {
      step: inFocus.step,
      assumed: [`step: ${inFocus.step.title}, spoken of before`],
      fromContext: true,
    };
  if (!graver && best.score >= accept) return { step: best.step, assumed: [], fromContext: false };
  if (best.part < 0.5 && !best.exact) return undefined;
  return { several: close.slice(0, CANDIDATES) };
}

/** "28.2 volts at the battery": no step of the words takes the figure, and one step of the plan does. */
function figureElsewhere(best: Match, wanted: Wanted, message: Message): StepPhrases | undefined {
  const sized = wanted.figures.flatMap((one) => (one.kind === 'quantity' ? [one] : []));
  const [figure] = sized;
  if (sized.length !== 1 || figure === undefined) return undefined;
  if (wanted.classes.length > 0 || wanted.unknown > 0 || best.exact) return undefined;
  if (quantityFit(best.step.step, figure.value, figure.unit) > 0) return undefined;
  const sole = soleTaker(sized, message.tongue.steps);
  const measured = sole?.step?.report?.some((ask) => ask.kind === 'quantity') === true;
  return measured ? sole : undefined;
}

/** "Pump on, bolts to 25": the bolts are the pump's, where the words alone leave it open. */
function withAround(
  first: readonly Match[],
  wanted: Wanted,
  around: ReadonlyMap<string, number>,
  message: Message,
  lexicon: Lexicon,
): readonly Match[] {
  const parts = new Map([...around].map(([root, value]) => [root, value * 0.5]));
  for (const [root, value] of wanted.parts) parts.set(root, value);
  const close = new Set(
    first.filter((one) => (first[0]?.score ?? 0) - one.score < 0.15).map((one) => one.step.id),
  );
  const again = rankSteps({ ...wanted, parts }, message.tongue, lexicon, 12).filter((one) =>
    close.has(one.step.id),
  );
  return again.length > 0 ? again : first;
}
