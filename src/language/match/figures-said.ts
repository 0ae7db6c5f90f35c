// Which figures belong to an act, and what a figure without unit or stage stands for. One part for each stage.
import type { Ask, Stage, Step } from '../../../shared/plan.ts';
import type { Act, Quantity } from '../../../shared/reading.ts';
import { convert, formatQuantity, isUnit, kindOf } from '../../trade/units.ts';
import type { Figure } from '../scan/figure.ts';
import { limitsOf, quantityFit } from './figure-fit.ts';

export type FigurePart = {
  quantity?: Quantity;
  angle?: { value: number; unit: 'deg' };
  stage?: number;
  count?: { done: number; of?: number };
  code?: string;
  assumed: string[];
  /** A figure whose size or kind does not suit the step. */
  doubt?: string;
};

type Sized = Extract<Figure, { kind: 'quantity' | 'number' }>;

const asksOf = (step: Step | undefined): readonly Ask[] => step?.report ?? [];

const isSized = (figure: Figure): figure is Sized =>
  figure.kind === 'quantity' || figure.kind === 'number';

/** The parts that the figures of a clause make for a step: one, or one for each stage. */
export function figuresSaid(
  step: Step | undefined,
  figures: readonly Figure[],
  unused: readonly Figure[],
): FigurePart[] {
  const base: FigurePart = { assumed: [] };
  const code = figures.find((figure) => figure.kind === 'code' || figure.kind === 'trouble-code');
  const wantsCode = asksOf(step).some((ask) => ask.kind === 'code' || ask.kind === 'trouble-codes');
  if (code && 'code' in code && (wantsCode || code.kind === 'trouble-code')) base.code = code.code;
  const count = figures.find((figure) => figure.kind === 'count');
  if (count?.kind === 'count')
    base.count = count.of === undefined ? { done: count.done } : { done: count.done, of: count.of };
  const sized = figures.filter(isSized);
  const spare = unused.flatMap((figure): Sized[] =>
    figure.kind === 'positions' &&
    figure.queries.length === 1 &&
    figure.queries[0]?.number !== undefined
      ? [
          {
            kind: 'number',
            value: figure.queries[0].number,
            from: figure.from,
            to: figure.to,
            at: figure.at,
          },
        ]
      : [],
  );
  if (!base.count) {
    const counted = countFrom(step, figures, spare);
    if (counted !== undefined) base.count = { done: counted };
  }
  const stages = figures.flatMap((figure) => (figure.kind === 'stage' ? figure.stages : []));
  const tight = asksOf(step).find((ask) => ask.kind === 'tightening' || ask.kind === 'loosening');
  const numbers = base.count ? sized : [...sized, ...spare];
  if (tight && 'stages' in tight) return tightParts(base, tight.stages, stages, numbers);
  if (stages.length > 0) return stages.map((stage) => ({ ...base, stage, assumed: [] }));
  return plainParts(base, step, numbers, wantsCode);
}

function countFrom(
  step: Step | undefined,
  figures: readonly Figure[],
  spare: readonly Sized[],
): number | undefined {
  const counts = asksOf(step).flatMap((ask) =>
    ask.kind === 'off' || ask.kind === 'on'
      ? [ask.count]
      : (ask.kind === 'tightening' || ask.kind === 'loosening') && ask.fasteners !== undefined
        ? [ask.fasteners]
        : [],
  );
  if (counts.length === 0) return undefined;
  const all = figures.find((figure) => figure.kind === 'all');
  if (
    all?.kind === 'all' &&
    all.count !== undefined &&
    !all.pair &&
    (step?.each === undefined || counts.includes(all.count)) &&
    !(step?.each !== undefined && all.sides)
  )
    return all.count;
  const bare = [...spare, ...figures.filter((figure) => figure.kind === 'number')].find(
    (figure) =>
      figure.kind === 'number' &&
      Number.isInteger(figure.value) &&
      figure.value <= Math.max(...counts) &&
      figure.value >= 1 &&
      !isStageFigure(step, figure.value),
  );
  return bare?.kind === 'number' ? bare.value : undefined;
}

/** Whether a bare number is what a stage of the plan says. */
const isStageFigure = (step: Step | undefined, value: number) =>
  asksOf(step).some(
    (ask) =>
      (ask.kind === 'tightening' || ask.kind === 'loosening') &&
      ask.stages.some((stage) => stage.torque === value || stage.angle === value),
  );

function quantityOf(figure: Sized, unit: string): Quantity {
  return {
    value: figure.value,
    unit,
    ...(figure.low === undefined ? {} : { low: figure.low }),
    ...(figure.high === undefined ? {} : { high: figure.high }),
    ...(figure.approx && figure.low === undefined ? { approx: true } : {}),
  };
}

function plainParts(
  base: FigurePart,
  step: Step | undefined,
  numbers: readonly Sized[],
  wantsCode: boolean,
): FigurePart[] {
  const withUnit = numbers.filter(
    (figure) =>
      figure.kind === 'quantity' &&
      figure.unit !== 'min' &&
      figure.unit !== 'h' &&
      figure.unit !== 's',
  );
  const parts: FigurePart[] = [];
  for (const figure of withUnit) {
    if (figure.kind !== 'quantity') continue;
    const unit = inStepUnit(step, figure.unit);
    const fit = quantityFit(step, figure.value, unit);
    const part: FigurePart = {
      ...base,
      assumed: [...base.assumed],
      quantity: quantityOf(figure, unit),
    };
    if (figure.doubtful) part.doubt = `Is that ${figure.value} or ${figure.value * 1000}?`;
    else if (fit < -0.1)
      part.doubt = `${formatIf(figure.value, unit)} is far from what this step expects.`;
    parts.push(part);
  }
  if (parts.length > 0) return parts;
  const bares = numbers.filter((figure) => figure.kind === 'number');
  const bare = bares[0];
  if (!bare) return [base];
  if (wantsCode && !base.code && String(bare.value).length >= 4)
    return [{ ...base, code: String(bare.value) }];
  const kinds = asksOf(step).flatMap((ask) => {
    const limits = [
      'torque',
      'volume',
      'pressure',
      'length',
      'distance',
      'temperature',
      'voltage',
      'speed',
      'mass',
      'duration',
      'percentage',
      'resistance',
      'current',
      'angle',
    ]
      .map((kind) => limitsOf(ask, kind))
      .find((one) => one !== undefined);
    return limits ? [limits] : [];
  });
  const only = kinds[0];
  if (kinds.length !== 1 || !only || quantityFit(step, bare.value, only.unit) < 0) return [base];
  return bares
    .filter((figure) => quantityFit(step, figure.value, only.unit) > 0)
    .map((figure) => ({
      ...base,
      quantity: quantityOf(figure, only.unit),
      assumed: [
        `unit: ${formatIf(figure.value, only.unit)}, the only kind of figure this step asks`,
      ],
      ...(figure.doubtful ? { doubt: `Is that ${figure.value} or ${figure.value * 1000}?` } : {}),
    }));
}

/** "22 deg" of a temperature step is 22 °C. */
function inStepUnit(step: Step | undefined, unit: string): string {
  if (unit !== 'deg') return unit;
  const temperature = asksOf(step).find(
    (ask) => ask.kind === 'quantity' && isUnit(ask.unit) && kindOf(ask.unit) === 'temperature',
  );
  return temperature?.kind === 'quantity' ? temperature.unit : unit;
}

const formatIf = (value: number, unit: string) =>
  isUnit(unit) ? formatQuantity(value, unit) : `${value} ${unit}`;

function near(value: number, unit: string, stage: Stage): boolean {
  if (stage.torque === undefined || !isUnit(unit)) return false;
  const same = convert(value, unit, stage.unit ?? 'N.m');
  return (
    typeof same === 'number' &&
    Math.abs(same - stage.torque) <= (stage.torque * (stage.tolerance ?? 5)) / 100 + 1e-9
  );
}

function nearAngle(value: number, stage: Stage): boolean {
  return (
    stage.angle !== undefined && Math.abs(value - stage.angle) <= (stage['tolerance-angle'] ?? 5)
  );
}

/** Torque and angle figures to stages: by the stage said, else by the plan's figure that is the same. */
function tightParts(
  base: FigurePart,
  plan: readonly Stage[],
  said: readonly number[],
  numbers: readonly Sized[],
): FigurePart[] {
  const torques: { figure: Sized; unit: string; bare: boolean }[] = [];
  const angles: Sized[] = [];
  for (const figure of numbers) {
    if (figure.kind === 'quantity') {
      if (figure.unit === 'deg' || figure.unit === 'Cel') angles.push(figure);
      else if (isUnit(figure.unit) && kindOf(figure.unit) === 'torque')
        torques.push({ figure, unit: figure.unit, bare: false });
      else if (isUnit(figure.unit) && kindOf(figure.unit) === 'mass')
        torques.push({ figure, unit: figure.unit, bare: false });
    } else if (
      plan.some((stage) => near(figure.value, stage.unit ?? 'N.m', stage)) ||
      (said.length === 1 && plan[(said[0] ?? 1) - 1]?.torque !== undefined)
    ) {
      torques.push({
        figure,
        unit: plan.find((stage) => stage.torque !== undefined)?.unit ?? 'N.m',
        bare: true,
      });
    } else if (plan.some((stage) => nearAngle(figure.value, stage))) angles.push(figure);
  }
  const total = torques.length + angles.length;
  if (said.length > 0 && total <= 1) {
    return said.map((stage) =>
      onePart(
        base,
        stage,
        said.length === 1 || fitsStage(plan[stage - 1], torques[0], angles[0])
          ? torques[0]
          : undefined,
        said.length === 1 || nearAngle(angles[0]?.value ?? -1, plan[stage - 1] ?? {})
          ? angles[0]
          : undefined,
      ),
    );
  }
  if (total === 0) return [base];
  const only = said.length === 1 ? said[0] : undefined;
  if (only !== undefined) return [onePart(base, only, torques[0], angles[0])];
  const parts: FigurePart[] = [];
  const used = new Set<Sized>();
  for (const torque of torques) {
    const index = plan.findIndex((stage) => near(torque.figure.value, torque.unit, stage));
    const together =
      index >= 0 && plan[index]?.angle !== undefined
        ? angles.find((angle) => !used.has(angle) && nearAngle(angle.value, plan[index] ?? {}))
        : undefined;
    if (together) used.add(together);
    const part = onePart(
      base,
      index >= 0
        ? index + 1
        : plan.length === 1 && plan[0]?.torque !== undefined
          ? undefined
          : undefined,
      torque,
      together,
    );
    if (index >= 0 && said.length === 0)
      part.assumed.push(`stage: ${index + 1}, whose figure in the plan it is`);
    parts.push(part);
  }
  for (const angle of angles) {
    if (used.has(angle)) continue;
    const index = plan.findIndex((stage) => nearAngle(angle.value, stage));
    const last = parts.at(-1);
    if (index < 0 && last && !last.angle && parts.length === 1 && last.stage === undefined) {
      last.angle = { value: angle.value, unit: 'deg' };
      continue;
    }
    const part = onePart(base, index >= 0 ? index + 1 : undefined, undefined, angle);
    if (index >= 0 && said.length === 0)
      part.assumed.push(`stage: ${index + 1}, whose angle in the plan it is`);
    parts.push(part);
  }
  return parts;
}

const fitsStage = (
  stage: Stage | undefined,
  torque: { figure: Sized; unit: string } | undefined,
  angle: Sized | undefined,
) =>
  stage !== undefined &&
  ((torque !== undefined && near(torque.figure.value, torque.unit, stage)) ||
    (angle !== undefined && nearAngle(angle.value, stage)));

function onePart(
  base: FigurePart,
  stage: number | undefined,
  torque: { figure: Sized; unit: string; bare: boolean } | undefined,
  angle: Sized | undefined,
): FigurePart {
  const part: FigurePart = { ...base, assumed: [...base.assumed] };
  if (stage !== undefined) part.stage = stage;
  if (torque) {
    part.quantity = quantityOf(torque.figure, torque.unit);
    if (torque.bare)
      part.assumed.push(
        `unit: ${formatIf(torque.figure.value, torque.unit)}, the only kind of figure this stage asks`,
      );
  }
  if (angle) part.angle = { value: angle.value, unit: 'deg' };
  return part;
}

/** Copies the figures of a part into an act. */
export function withFigures(act: Act, part: FigurePart): Act {
  const made = { ...act };
  if (part.quantity) made.quantity = part.quantity;
  if (part.angle) made.angle = part.angle;
  if (part.stage !== undefined) made.stage = part.stage;
  if (part.count) made.count = part.count;
  if (part.code !== undefined) made.code = part.code;
  if (part.assumed.length > 0) made.assumed = [...act.assumed, ...part.assumed];
  return made;
}
