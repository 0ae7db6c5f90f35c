// A report without a verb: what it needs to count.
import { type Clause, figuresOf } from '../clause.ts';
import type { Lexicon } from '../lexicon.ts';
import { figureFit } from '../match/figure-fit.ts';
import { figuresSaid } from '../match/figures-said.ts';
import type { StepPhrases } from '../match/phrases.ts';
import type { Figure } from '../scan/figure.ts';
import type { Stance } from '../stance.ts';

/** A report without a verb needs a figure the step asks for; a good result needs a step that looks at something. */
export function enoughForWeak(
  stance: Stance,
  step: StepPhrases,
  clause: Clause,
  lexicon: Lexicon,
): boolean {
  const figures = figuresOf(clause);
  if (stance.rule === 'figure-beside-part') {
    const telling = figures.filter(
      (figure) =>
        /^(quantity|stage|code|trouble-code|count|number)$/.test(figure.kind) ||
        (figure.kind === 'positions' && figure.bare && step.step?.each === undefined),
    );
    if (telling.length === 0) return false;
    return (
      figureFit(step, telling, lexicon) > 0 ||
      (onlyPlanWords(clause) &&
        figuresSaid(step.step, telling, []).some((part) => part.quantity && !part.doubt))
    );
  }
  if (step.step?.check !== undefined) return true;
  const measured = figures.filter((figure) => /^(quantity|number|stage)$/.test(figure.kind));
  if (measured.length > 0 && figureFit(step, measured, lexicon) >= 0.08) return true;
  const title = step.phrases
    .filter((phrase) => phrase.from === 'title')
    .flatMap((phrase) => phrase.classes);
  return (
    title.some((one) => LOOKS.has(one)) || title.length === 0 || step.step?.check !== undefined
  );
}

const LOOKS: ReadonlySet<string> = new Set([
  'check',
  'measure',
  'test',
  'read',
  'clean',
  'drive',
  'adjust',
  'start',
]);

/** Nothing but words of the plan and small ones stands beside the figures. */
const onlyPlanWords = (clause: Clause): boolean =>
  clause.pieces.every((piece) =>
    piece.tokens
      .slice(piece.from, piece.to)
      .every(
        (token, k) =>
          token.kind !== 'word' ||
          token.entry?.plan === true ||
          token.entry?.stop === true ||
          token.entry?.side !== undefined ||
          piece.figures.some((one) => one.from <= piece.from + k && piece.from + k < one.to),
      ),
  );

export const asksSize = (step: StepPhrases): boolean =>
  step.step?.report?.some((ask) => ask.kind === 'quantity' || ask.kind === 'clearance') ?? false;

export const notSized = (figure: Figure): boolean =>
  figure.kind !== 'quantity' && figure.kind !== 'number';
