// Steps told by a figure: the only one that asks for it, or the one whose instrument shows it.
import { bareValueFit, quantityFit, stageFigure } from '../match/figure-fit.ts';
import { stepsBehind } from '../match/figure-of-another.ts';
import type { StepPhrases } from '../match/phrases.ts';
import type { Match, Wanted } from '../match/score.ts';
import type { Message } from '../message.ts';
import type { Focus } from './so-far.ts';

/** "Belt tension 10 mm": of steps as near as one another, the one that asks for a figure of this kind. */
export function takesFigure(
  ranked: readonly Match[],
  wanted: Wanted,
  reach: number,
): StepPhrases | undefined {
  const [best, second] = ranked;
  if (!best || !second || best.score - second.score >= reach) return undefined;
  const figures = wanted.figures.flatMap((figure) => (figure.kind === 'quantity' ? [figure] : []));
  if (figures.length === 0) return undefined;
  const takes = ranked.filter(
    (one) =>
      best.score - one.score < Math.max(0.16, reach) &&
      one.action >= 0.5 &&
      figures.every((figure) => quantityFit(one.step.step, figure.value, figure.unit) > 0),
  );
  return takes.length === 1 ? takes[0]?.step : undefined;
}

const INSTRUMENT = /^(gauge|tester|dial|meter|thermometer|display|laptop|clock|manometer|tool)$/;

/** "Air dumped, gauge on 0": what an instrument shows is the figure of the work in hand. */
export function shownBy(wanted: Wanted, focus: Focus | undefined): StepPhrases | undefined {
  if (focus?.from !== '' || wanted.parts.size > 1) return undefined;
  const shown = wanted.words.some((word) => INSTRUMENT.test(word.root));
  const others = [...wanted.parts.keys()].some((root) => !INSTRUMENT.test(root));
  if (!shown || others) return undefined;
  const fits = wanted.figures.some((figure) =>
    figure.kind === 'quantity'
      ? quantityFit(focus.step.step, figure.value, figure.unit) > 0
      : figure.kind === 'number' && bareValueFit(focus.step.step, figure.value) > 0,
  );
  return fits ? focus.step : undefined;
}

export const classesFree = (wanted: Wanted): boolean =>
  wanted.classes.length === 0 || wanted.classes.includes('tighten');

/** "65 on all four": the only step of the plan with this torque for so many fasteners. */
export function byTheirFigure(wanted: Wanted, message: Message): StepPhrases | undefined {
  const count = wanted.figures.flatMap((figure) =>
    figure.kind === 'all' && figure.count !== undefined ? [figure.count] : [],
  )[0];
  const values = wanted.figures.flatMap((figure) =>
    figure.kind === 'number' || (figure.kind === 'quantity' && figure.unit === 'N.m')
      ? [figure.value]
      : [],
  );
  if (count === undefined || values.length === 0) return undefined;
  const found = message.tongue.steps.filter((one) =>
    one.step?.report?.some(
      (ask) =>
        ask.kind === 'tightening' &&
        ask.fasteners === count &&
        values.every((value) => ask.stages.some((stage) => stage.torque === value)),
    ),
  );
  return found.length === 1 ? found[0] : undefined;
}

const isBareNumber = (wanted: Wanted): boolean =>
  wanted.figures.length === 1 && wanted.figures[0]?.kind === 'number';

/** "32 all four" behind "cooler bolts in": the next tightening with this figure, where the work in hand has none. */
export function tightenedNext(
  wanted: Wanted,
  focus: Focus,
  message: Message,
): StepPhrases | undefined {
  const said = wanted.figures.flatMap((figure) =>
    figure.kind === 'number' || figure.kind === 'quantity'
      ? [{ value: figure.value, unit: figure.kind === 'quantity' ? figure.unit : undefined }]
      : [],
  );
  if (said.length === 0 || !classesFree(wanted)) return undefined;
  const asks = focus.step.step?.report ?? [];
  if (asks.some((ask) => !/^(?:on|off)$/.test(ask.kind))) return undefined;
  for (const one of stepsBehind(focus.step, message))
    if (said.every(({ value, unit }) => stageFigure(one.step, value, unit) > 0))
      return one.step?.weight === 'safety-critical' && isBareNumber(wanted) ? undefined : one;
  return undefined;
}

/** "Stage 2 done": any series of stages may be meant. */
export function stagesAlone(wanted: Wanted, message: Message): readonly Match[] | undefined {
  const stages = wanted.figures.flatMap((figure) => (figure.kind === 'stage' ? figure.stages : []));
  if (stages.length === 0 || wanted.classes.length > 0 || !wanted.calledDone) return undefined;
  const most = Math.max(...stages);
  const found = message.tongue.steps.filter((one) =>
    one.step?.report?.some((ask) => ask.kind === 'tightening' && ask.stages.length >= most),
  );
  if (found.length === 0) return undefined;
  return found.map((step) => ({
    step,
    score: 0.5,
    part: 0,
    action: 0.6,
    exact: false,
    reports: false,
  }));
}
