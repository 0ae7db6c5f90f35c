// The only step of a plan that asks for such a figure: the figure names it as well as words do.
import type { Figure } from '../scan/figure.ts';
import { limitsOf, quantityFit, stageFigure } from './figure-fit.ts';
import type { StepPhrases } from './phrases.ts';

/** Whether a bare number with decimals, or one that is a stage, lies in the very limits of what the step asks. */
function takesBare(one: StepPhrases, value: number): boolean {
  if (stageFigure(one.step, value, undefined) > 0) return true;
  if (Number.isInteger(value)) return false;
  return (one.step?.report ?? []).some((ask) => {
    const limits =
      ask.kind === 'quantity' ? limitsOf(ask, ask.unit === 'deg' ? 'angle' : undefined) : undefined;
    const own = ask.kind === 'quantity' ? (limits ?? { min: ask.min, max: ask.max }) : undefined;
    return (
      own?.max !== undefined &&
      value >= (own.min ?? 0) &&
      value <= own.max &&
      (own.min !== undefined || value > own.max / 10)
    );
  });
}

const takes = (one: StepPhrases, figure: Figure): boolean =>
  figure.kind === 'quantity'
    ? quantityFit(one.step, figure.value, figure.unit) > 0
    : figure.kind === 'number' && takesBare(one, figure.value);

/** Torques are told apart by their size: the step one of whose stages is the very figure. */
const isStage = (one: StepPhrases, figure: Figure): boolean =>
  figure.kind === 'quantity'
    ? stageFigure(one.step, figure.value, figure.unit) > 0
    : figure.kind === 'number' && stageFigure(one.step, figure.value, undefined) > 0;

/**
 * The only step that can take all the figures said, by unit and size.
 *
 * @returns undefined where none can, or several can
 */
export function soleTaker(
  figures: readonly Figure[],
  steps: readonly StepPhrases[],
): StepPhrases | undefined {
  const sized = figures.filter((one) => one.kind === 'quantity' || one.kind === 'number');
  // "In ten minutes", "22 miles": what no step asks for goes beside it.
  const said = sized.filter(
    (figure) =>
      figure.kind === 'number' ||
      steps.some((one) => quantityFit(one.step, figure.value, figure.unit) > 0),
  );
  if (said.length === 0 || said.length > 6) return undefined;
  const found = steps.filter((one) => one.step && said.every((figure) => takes(one, figure)));
  if (found.length === 1) return found[0];
  const staged = found.filter((one) => said.every((figure) => isStage(one, figure)));
  return staged.length === 1 ? staged[0] : undefined;
}
