// Tightening and loosening in stages of torque and angle.
import type { Ask, Stage, Step } from '../../../../shared/plan.ts';
import type { Act, Quantity } from '../../../../shared/reading.ts';
import { formatQuantity, type Unit } from '../../../trade/units.ts';
import type { Fact } from '../../facts/fact.ts';
import { inUnit, isTorque } from '../../facts/measure.ts';
import type { Plan } from '../../plan.ts';
import {
  type AskState,
  type FigureRecord,
  isWithin,
  type Limit,
  NOTHING,
  sourceOf,
} from './ask-state.ts';

export type StageAsk = Extract<Ask, { kind: 'tightening' | 'loosening' }>;

/** Per cent of the torque, where the plan gives no tolerance of its own. */
const USUAL_TOLERANCE = 5;
/** Degrees, where the plan gives no tolerance of its own. */
const USUAL_ANGLE = 5;

/** One report of one stage. `whole` is false while only some of its fasteners are said to be done. */
export type StageRecord = {
  readonly stage: number;
  readonly fact: Fact;
  readonly whole: boolean;
  readonly again: boolean;
};

export type StagesState = AskState & {
  readonly records: readonly StageRecord[];
  /** Stages of the plan that are wholly reported. */
  readonly done: readonly number[];
};

export const stageAskOf = (step: Step | undefined): StageAsk | undefined =>
  step?.report?.find(
    (ask): ask is StageAsk => ask.kind === 'tightening' || ask.kind === 'loosening',
  );

/** The stages reported in one run of a step, and the figures that were said or are taken from the plan. */
export function stagesState(
  plan: Plan,
  step: Step,
  ask: StageAsk,
  facts: readonly Fact[],
): StagesState {
  const source = sourceOf(plan, step, ask.source);
  const records: StageRecord[] = [];
  const figures: FigureRecord[] = [];
  const assumed: string[] = [];
  const first = new Map<number, Fact>();
  for (const fact of facts) {
    const { act } = fact.report;
    const stages = stagesMeant(ask, act, first);
    for (const stage of stages) {
      const whole = act.kind === 'done' && !someOnly(ask, act);
      records.push({ stage, fact, whole, again: act.again === true });
      const planned = ask.stages[stage - 1];
      if (planned !== undefined) {
        const found = figuresOfStage(planned, stage, fact, source, stages.length > 1);
        figures.push(...found.filter((figure) => whole || !figure.assumed));
        if (whole) assumed.push(...assumptions(stage, act, found));
      }
      if (whole && !first.has(stage)) first.set(stage, fact);
    }
  }
  const numbers = ask.stages.map((_, index) => index + 1);
  const reported = [...first].filter(([stage]) => stage <= numbers.length).map(([, fact]) => fact);
  return {
    ...NOTHING,
    missing: numbers
      .filter((stage) => !first.has(stage))
      .map((stage) =>
        numbers.length === 1
          ? `the ${figureWords(ask.stages[0])} of the ${ask.of}`
          : `stage ${stage} of the ${ask.of}`,
      ),
    blocks: true,
    at: Math.max(-Infinity, ...reported.map((fact) => fact.when)),
    known: Math.max(-1, ...reported.map((fact) => fact.order)),
    figures,
    assumed,
    records,
    done: numbers.filter((stage) => first.has(stage)),
  };
}

const figureWords = (stage: Stage | undefined): string =>
  stage?.torque === undefined ? 'angle' : stage.angle === undefined ? 'torque' : 'torque and angle';

const someOnly = (ask: StageAsk, act: Act): boolean =>
  act.count !== undefined && act.count.done < (act.count.of ?? ask.fasteners ?? 0);

const torqueOf = (act: Act): Quantity | undefined =>
  act.quantity !== undefined && isTorque(act.quantity.unit) ? act.quantity : undefined;

const angleOf = (act: Act): Quantity | undefined =>
  act.angle ?? (act.quantity?.unit === 'deg' ? act.quantity : undefined);

/** The stages a report is about: the one it numbers, else those its figures belong to. */
function stagesMeant(
  ask: StageAsk,
  act: Act,
  recorded: ReadonlyMap<number, Fact>,
): readonly number[] {
  if (act.stage !== undefined) return [act.stage];
  const torque = torqueOf(act);
  const angle = angleOf(act);
  if (torque === undefined && angle === undefined) return [];
  const both = pick(ask, torque, angle, recorded);
  if (both !== undefined) return [both];
  const apart = [pick(ask, torque, undefined, recorded), pick(ask, undefined, angle, recorded)];
  if (torque !== undefined && angle !== undefined) {
    const found = apart.filter((stage) => stage !== undefined);
    if (found.length === 2) return found;
  }
  const fits = ask.stages.map((stage, index) => ({
    stage: index + 1,
    fits: torque === undefined ? stage.angle !== undefined : stage.torque !== undefined,
  }));
  const usable = fits.filter((one) => one.fits);
  const next = usable.find(({ stage }) => !recorded.has(stage)) ?? usable.at(-1);
  return next === undefined ? [] : [next.stage];
}

/** The stage whose limits the figures meet; of several the first that has no report. */
function pick(
  ask: StageAsk,
  torque: Quantity | undefined,
  angle: Quantity | undefined,
  recorded: ReadonlyMap<number, Fact>,
): number | undefined {
  if (torque === undefined && angle === undefined) return undefined;
  const fitting = ask.stages.flatMap((stage, index) => {
    const turns = torque === undefined || meets(torque, torqueLimit(stage, ''));
    const angles = angle === undefined || meets(angle, angleLimit(stage, ''));
    return turns && angles ? [index + 1] : [];
  });
  return fitting.find((stage) => !recorded.has(stage)) ?? fitting[0];
}

const meets = (quantity: Quantity, limit: Limit | undefined): boolean =>
  limit !== undefined && isWithin(quantity, limit) === true;

export function torqueLimit(stage: Stage, source: string): Limit | undefined {
  if (stage.torque === undefined) return undefined;
  const apart = (stage.torque * (stage.tolerance ?? USUAL_TOLERANCE)) / 100;
  const unit = stage.unit ?? 'N.m';
  return { min: stage.torque - apart, max: stage.torque + apart, unit, source };
}

export function angleLimit(stage: Stage, source: string): Limit | undefined {
  if (stage.angle === undefined) return undefined;
  const apart = stage['tolerance-angle'] ?? USUAL_ANGLE;
  return { min: stage.angle - apart, max: stage.angle + apart, unit: 'deg', source };
}

function figuresOfStage(
  planned: Stage,
  stage: number,
  fact: Fact,
  source: string,
  shared: boolean,
): readonly FigureRecord[] {
  const { act } = fact.report;
  const kinds = [
    { said: torqueOf(act), limit: torqueLimit(planned, source), plan: planned.torque },
    { said: angleOf(act), limit: angleLimit(planned, source), plan: planned.angle },
  ];
  return kinds.flatMap(({ said, limit, plan }) => {
    if (limit === undefined)
      return said === undefined || shared ? [] : [strayFigure(stage, said, fact)];
    const comparable =
      said !== undefined && inUnit(said.value, said.unit, limit.unit) !== undefined;
    const quantity = comparable ? said : { value: plan ?? 0, unit: limit.unit };
    const within = isWithin(quantity, limit);
    return [
      {
        of: `stage ${stage}`,
        part: String(stage),
        quantity,
        facts: [fact],
        limit,
        ...(within !== undefined && { within }),
        assumed: !comparable,
      },
    ];
  });
}

/** A torque where the stage is an angle, or the other way round: kept, and compared with nothing. */
const strayFigure = (stage: number, quantity: Quantity, fact: Fact): FigureRecord => ({
  of: `stage ${stage}`,
  part: String(stage),
  quantity,
  facts: [fact],
  assumed: false,
});

function assumptions(stage: number, act: Act, figures: readonly FigureRecord[]): readonly string[] {
  const values = figures
    .filter((figure) => figure.assumed)
    .map(
      ({ quantity }) =>
        `stage ${stage}: ${formatQuantity(quantity.value, quantity.unit as Unit)}, the plan's value`,
    );
  const number = act.stage === undefined ? [`stage: ${stage}, from the figure`] : [];
  return [...number, ...values];
}
