// The questions a clause ends in, with their answers.

import type { Act, Candidate } from '../../../shared/reading.ts';
import { doneOrNot } from '../asked-instead.ts';
import type { ReadContext } from '../context.ts';
import type { Lexicon } from '../lexicon.ts';
import { type FigurePart, figuresSaid } from '../match/figures-said.ts';
import type { StepPhrases } from '../match/phrases.ts';
import { placesSaid, setOfStep } from '../match/places-said.ts';
import type { Figure } from '../scan/figure.ts';

/** What is not certain enough becomes a question with its two answers. */
export function asked(act: Act, step: StepPhrases, shaky: boolean): Act {
  const doubted: Act = shaky && act.kind === 'done' ? { ...act, kind: 'unsure' } : act;
  return doubted.kind === 'unsure' && !doubted.candidates
    ? { ...doubted, candidates: doneOrNot(step.title, doubted, 'done') }
    : doubted;
}

/** A figure that does not suit its step is asked about. */
export const askFigure = (act: Act, step: StepPhrases, part: FigurePart): Act => ({
  ...act,
  kind: 'unsure',
  candidates: [
    {
      says: `${step.title}: as written`,
      kind: 'done',
      step: step.id,
      positions: [...act.positions],
      ...(part.quantity ? { quantity: part.quantity } : {}),
    },
  ],
});

export function askWhere(act: Act, step: StepPhrases, allowed: readonly string[]): Act {
  const { kind, candidates: _, ...rest } = act;
  return {
    ...rest,
    kind: 'unsure',
    candidates: [
      {
        says: `all ${allowed.length}: ${step.title}`,
        kind,
        step: step.id,
        positions: [...allowed],
        ...(act.stage === undefined ? {} : { stage: act.stage }),
        ...(act.quantity ? { quantity: act.quantity } : {}),
      },
    ],
  };
}

export function candidateOf(
  step: StepPhrases,
  figures: readonly Figure[],
  lexicon: Lexicon,
  context: ReadContext,
): Candidate {
  const places = placesSaid(step, figures, lexicon, context.positions);
  const part = figuresSaid(step.step, figures, places.unused)[0];
  return {
    says: step.title,
    kind: 'done',
    step: step.id,
    positions: [...places.positions],
    ...(part?.quantity ? { quantity: part.quantity } : {}),
    ...(part?.stage === undefined ? {} : { stage: part.stage }),
  };
}

/** Positions of whichever set they fit, for a finding without a step. */
export function anyPlaces(figures: readonly Figure[], lexicon: Lexicon): string[] {
  for (const set of lexicon.positions.sets.values()) {
    const fake: StepPhrases = {
      id: '',
      title: '',
      step: { id: 'x', title: 'x', phase: 'inspect', each: set.name },
      phrases: [],
    };
    if (setOfStep(fake, lexicon)) {
      const found = placesSaid(fake, figures, lexicon, undefined).positions;
      if (found.length > 0) return [...found];
    }
  }
  return [];
}
