// "is 48 nm ok for clamp stage 2": a torque or an angle against the tolerance of its stage.
import { checkFigure, type StageTarget } from '../../../trade/tightening/stage-check.ts';
import { convert, formatQuantity, kindOf, type Quantity } from '../../../trade/units.ts';
import { type Asked, aroundSaid, kindOfSaid, quantityOf, type Said } from '../asking/asked.ts';
import { answerOf, asks, figureKind, type Ground, means, type Read } from '../figure-kind.ts';
import { fromPlan, isLabel } from '../plan-figure.ts';
import { asksWhetherInRange } from '../readings/in-range-words.ts';
import { type PlanStage, planStage } from './plan-stage.ts';

export type StageInputs = {
  readonly target: StageTarget;
  readonly reported: Quantity;
  readonly stage?: PlanStage;
};

const TARGET =
  /\b(?:for|against|target|wanted|should be|instead of|für|soll|statt)(?:\s+(?:a|the))?\s*$/;
const MARGIN = /(?:±|\+\s?\/?\s?-|plus(?: or|\/)? ?minus|tolerance(?: of)?|toleranz(?: von)?)\s*$/;
/** A figure ten times off is a slip of the point or of a nought, not a stage done badly. */
const SLIP = 10;

export const stageInRange = figureKind<StageInputs>({
  kind: 'stage-in-range',
  means: 'a torque or an angle against the tolerance of its stage',
  examples: [
    {
      type: 'is 310 nm ok for 300 ±4%',
      means: {
        target: { figure: { value: 300, unit: 'N.m' }, tolerance: { percent: 4 } },
        reported: { value: 310, unit: 'N.m' },
      },
    },
    {
      type: 'is 48 ok for clamp stage 2?',
      plan: 'injectors-six-cylinder',
      means: {
        target: { figure: { value: 45, unit: 'N.m' }, tolerance: { percent: 5 } },
        reported: { value: 48, unit: 'N.m' },
        stage: { step: 'tighten-clamp', of: 'clamp bolt', stage: 2 },
      },
    },
    {
      type: 'is 75 degrees enough for the pipe nuts',
      plan: 'injectors-six-cylinder',
      means: {
        target: {
          figure: { value: 60, unit: 'deg' },
          tolerance: { plusMinus: { value: 5, unit: 'deg' } },
        },
        reported: { value: 75, unit: 'deg' },
        stage: { step: 'tighten-pipe-nuts', of: 'pipe nuts', stage: 2 },
      },
    },
  ],
  read,
  answer: ({ target, reported, stage }, { view }) => {
    const slip = slipOf(target, reported);
    if (slip !== undefined) return { says: slip };
    const placed = view && stage && planStage.placed(view, stage);
    if (!view || !placed) return answerOf(checkFigure(target, reported));
    const result = checkFigure(target, reported, planStage.source(view, placed));
    return result.ok ? fromPlan(view, placed, answerOf(result)) : answerOf(result);
  },
});

function slipOf(target: StageTarget, reported: Quantity): string | undefined {
  const value = convert(reported.value, reported.unit, target.figure.unit);
  if (typeof value !== 'number' || value <= 0 || target.figure.value <= 0) return undefined;
  const times = value / target.figure.value;
  if (times < SLIP && times > 1 / SLIP) return undefined;
  return `${formatQuantity(reported.value, reported.unit)} and ${formatQuantity(target.figure.value, target.figure.unit)} are too far apart for one stage. Read the figure again: a point or a nought may have slipped, or the unit is another one.`;
}

function read(asked: Asked, ground: Ground): Read<StageInputs> {
  if (!asksWhetherInRange(asked)) return undefined;
  const figures = asked.figures.filter((said) => !isLabel(asked, said.from));
  const [given, ...rest] = figures;
  if (!given || isClearlyElse(given)) return undefined;
  const target = rest.find((said) => TARGET.test(aroundSaid(asked, said).before));
  if (target && (isTight(given) || isTight(target))) return typed(asked, given, target, rest);
  if (rest.length > 0) return undefined;
  const part = kindOfSaid(given) === 'angle' ? 'angle' : 'torque';
  const stage = planStage.named(asked, ground.view, part);
  if (!stage) return undefined;
  if ('reply' in stage) return stage;
  const placed = ground.view && planStage.placed(ground.view, stage);
  const plan = placed?.ask.stages[stage.stage - 1];
  if (!plan) return undefined;
  const own = { step: stage.step, of: stage.of, stage: stage.stage };
  const byAngle = kindOfSaid(given) === 'angle' || plan.torque === undefined;
  if (byAngle && plan.angle !== undefined && kindOfSaid(given) !== 'torque') {
    return means({
      target: {
        figure: { value: plan.angle, unit: 'deg' },
        tolerance: { plusMinus: { value: plan['tolerance-angle'] ?? 5, unit: 'deg' } },
      },
      reported: quantityOf(given, 'deg'),
      stage: own,
    });
  }
  if (plan.torque === undefined) {
    return asks(
      `Stage ${stage.stage} is by angle: ${formatQuantity(plan.angle ?? 0, 'deg')}. Give the degrees of turn.`,
    );
  }
  return means({
    target: {
      figure: { value: plan.torque, unit: stage.unit },
      tolerance: { percent: plan.tolerance ?? 5 },
    },
    reported: quantityOf(given, stage.unit),
    stage: own,
  });
}

const isTight = (said: Said): boolean => ['torque', 'angle'].includes(kindOfSaid(said) ?? '');
/** Everything but a bare number, a torque, an angle, and the volume that somebody typed for a torque. */
const isClearlyElse = (said: Said): boolean =>
  said.unit !== undefined && !['torque', 'angle', 'volume'].includes(kindOf(said.unit));

function typed(asked: Asked, given: Said, target: Said, rest: readonly Said[]): Read<StageInputs> {
  const unit = target.unit ?? given.unit ?? 'N.m';
  const margin = rest.find(
    (said) => said !== target && MARGIN.test(aroundSaid(asked, said).before),
  );
  if (!margin) {
    return asks(
      'With which tolerance?',
      ['±4 %', '±5 %', '±10 %'].map((each) => ({ label: each, text: `${asked.plain} ${each}` })),
    );
  }
  return means({
    target: {
      figure: quantityOf(target, unit),
      tolerance:
        margin.unit === '%' ? { percent: margin.value } : { plusMinus: quantityOf(margin, unit) },
    },
    reported: quantityOf(given, unit),
  });
}
