// "Belt on, 10 mm": a figure the reported step never asks for belongs to another step of the same part.
import { isUnit, kindOf } from '../../trade/units.ts';
import type { Message } from '../message.ts';
import type { Figure } from '../scan/figure.ts';
import { limitsOf, quantityFit } from './figure-fit.ts';
import type { StepPhrases } from './phrases.ts';

/** Kinds of figure that tell of time and way, which belong to any work. */
const OF_ANY_WORK: ReadonlySet<string> = new Set(['duration', 'distance', 'speed']);

/** Steps that come behind a step in the plan, the nearest first. */
export function* stepsBehind(step: StepPhrases, message: Message): Generator<StepPhrases> {
  let front = new Set([step.id]);
  const seen = new Set(front);
  while (front.size > 0) {
    const next = message.tongue.steps.filter(
      (one) => !seen.has(one.id) && one.step?.after?.some((id) => front.has(id)),
    );
    yield* next;
    front = new Set(next.map((one) => one.id));
    for (const one of next) seen.add(one.id);
  }
}

export type Elsewhere = { readonly step: StepPhrases; readonly figure: Figure };

/**
 * The figure of a report that its step does not ask for, with the only step it can belong to.
 *
 * @param parts the words of parts that the clause names, with their strength
 */
export function figureOfAnother(
  step: StepPhrases,
  figures: readonly Figure[],
  parts: ReadonlyMap<string, number>,
  message: Message,
): Elsewhere | undefined {
  for (const figure of figures) {
    if (figure.kind !== 'quantity' || !isUnit(figure.unit)) continue;
    if (OF_ANY_WORK.has(kindOf(figure.unit))) continue;
    const kind = kindOf(figure.unit);
    if (step.step?.report?.some((ask) => limitsOf(ask, kind) !== undefined)) continue;
    const takes = message.tongue.steps.filter(
      (one) =>
        one.step !== undefined &&
        one.id !== step.id &&
        quantityFit(one.step, figure.value, figure.unit) > 0,
    );
    const shares = takes.filter((one) =>
      one.phrases.some((phrase) =>
        [...parts].some(([root, value]) => value >= 0.85 && phrase.parts.get(root) !== undefined),
      ),
    );
    const [only] = takes;
    const alone =
      takes.length === 1 && only !== undefined && only.step?.weight !== 'safety-critical';
    const fits = alone ? takes : shares;
    if (fits.length === 0) continue;
    for (const one of stepsBehind(step, message))
      if (fits.includes(one)) return { step: one, figure };
  }
  return undefined;
}
