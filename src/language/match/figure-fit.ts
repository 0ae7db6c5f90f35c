// What the figures of a clause say for or against a step: their kind, their size, their number.
import type { Ask, Step } from '../../../shared/plan.ts';
import { convert, isUnit, kindOf, type Unit } from '../../trade/units.ts';
import type { Lexicon } from '../lexicon.ts';
import type { Figure } from '../scan/figure.ts';
import { PLAUSIBLE } from '../thresholds.ts';
import type { StepPhrases } from './phrases.ts';
import { resolvePositions } from './positions.ts';

const asksOf = (step: Step | undefined): readonly Ask[] => step?.report ?? [];

/** What the figures of the clause say for or against a step. */
export function figureFit(
  phrases: StepPhrases,
  figures: readonly Figure[],
  lexicon: Lexicon,
): number {
  const step = phrases.step;
  let fit = 0;
  for (const figure of figures) {
    if (figure.kind === 'quantity')
      fit +=
        quantityFit(step, figure.value, figure.unit) + stageFigure(step, figure.value, figure.unit);
    else if (figure.kind === 'number')
      fit +=
        stageFigure(step, figure.value, undefined) +
        (figure.value > 2 ? Math.max(0, countFit(step, figure.value)) : 0) +
        (Number.isInteger(figure.value) ? 0 : Math.max(0, bareValueFit(step, figure.value)));
    else if (figure.kind === 'count') fit += countFit(step, figure.of ?? figure.done);
    else if (figure.kind === 'all' && figure.count !== undefined && figure.count > 2)
      fit += countFit(step, figure.count) / 2;
    else if (figure.kind === 'stage') fit += stageFit(step, figure.stages);
    else if (figure.kind === 'code')
      fit += asksOf(step).some((ask) => ask.kind === 'code') ? 0.1 : -0.08;
    else if (figure.kind === 'trouble-code')
      fit += asksOf(step).some((ask) => ask.kind === 'trouble-codes') ? 0.15 : -0.05;
    else if (figure.kind === 'positions') {
      const set = step?.each === undefined ? undefined : lexicon.positions.sets.get(step.each);
      if (!set) fit += figure.bare ? bareFit(step, figure) : -0.06;
      else fit += resolvePositions(figure.queries, set).unknown.length === 0 ? 0.04 : -0.06;
    }
  }
  return Math.max(-0.2, Math.min(0.2, fit));
}

/** A figure that is exactly what a stage of the plan says speaks for that step. */
export function stageFigure(
  step: Step | undefined,
  value: number,
  unit: string | undefined,
): number {
  for (const ask of asksOf(step)) {
    if (ask.kind !== 'tightening' && ask.kind !== 'loosening') continue;
    for (const stage of ask.stages) {
      if (
        stage.angle === value &&
        (unit === 'deg' || unit === undefined) &&
        ask.kind === 'tightening'
      )
        return 0.08;
      if (stage.torque === undefined) continue;
      const own = stage.unit ?? 'N.m';
      const same =
        unit === undefined
          ? value
          : isUnit(unit) && kindOf(unit) === 'torque'
            ? convert(value, unit, own)
            : undefined;
      if (typeof same === 'number' && Math.abs(same - stage.torque) <= stage.torque * 0.02)
        return 0.1;
    }
  }
  return 0;
}

/** A bare number that the step could take as its only figure. */
function bareFit(step: Step | undefined, figure: Extract<Figure, { kind: 'positions' }>): number {
  const value = figure.queries.length === 1 ? figure.queries[0]?.number : undefined;
  return value === undefined ? -0.02 : bareValueFit(step, value);
}

export function bareValueFit(step: Step | undefined, value: number): number {
  const fits = asksOf(step).some((ask) => {
    const limits = ['volume', 'torque', 'pressure', 'length', 'temperature', 'distance', 'angle']
      .map((kind) => limitsOf(ask, kind))
      .find((one) => one !== undefined);
    return limits !== undefined && plausible(value, limits.unit, limits);
  });
  return fits ? 0.06 : -0.02;
}

function countFit(step: Step | undefined, count: number): number {
  const counts = asksOf(step).flatMap((ask) =>
    ask.kind === 'off' || ask.kind === 'on' ? [ask.count] : [],
  );
  return counts.length === 0 ? 0 : counts.includes(count) ? 0.08 : -0.02;
}

function stageFit(step: Step | undefined, stages: readonly number[]): number {
  const asks = asksOf(step).filter((ask) => ask.kind === 'tightening' || ask.kind === 'loosening');
  if (asks.length === 0) return -0.15;
  const most = Math.max(...asks.map((ask) => ('stages' in ask ? ask.stages.length : 0)));
  const tight = asks.some((ask) => ask.kind === 'tightening');
  return stages.every((stage) => stage <= most) ? (tight ? 0.1 : 0) : -0.1;
}

/** Above zero where the step asks for such a figure and its size can be meant, below where not. */
export function quantityFit(step: Step | undefined, value: number, unit: string): number {
  const kind = isUnit(unit) ? kindOf(unit) : undefined;
  const fits = asksOf(step).some((ask) => {
    const limits = limitsOf(ask, kind);
    return limits !== undefined && plausible(value, unit, limits);
  });
  return fits ? 0.1 : -0.08;
}

type Limits = {
  readonly unit: Unit;
  readonly min: number | undefined;
  readonly max: number | undefined;
};

/** The limits of an ask that is of this kind. */
export function limitsOf(ask: Ask, kind: string | undefined): Limits | undefined {
  if (ask.kind === 'quantity' && isUnit(ask.unit)) {
    const own = kindOf(ask.unit);
    const same = own === kind || (kind === 'angle' && own === 'temperature');
    return same ? { unit: ask.unit, min: ask.min, max: ask.max } : undefined;
  }
  if (ask.kind === 'drained' || ask.kind === 'filled') {
    const unit = ask.unit !== undefined && isUnit(ask.unit) ? ask.unit : 'L';
    return kind === 'volume' ? { unit, min: ask.min, max: ask.max } : undefined;
  }
  if (ask.kind === 'clearance' && kind === 'length') {
    const unit = ask.unit !== undefined && isUnit(ask.unit) ? ask.unit : 'mm';
    return {
      unit,
      min: Math.min(...ask.valves.map((one) => one.min)),
      max: Math.max(...ask.valves.map((one) => one.max)),
    };
  }
  if (ask.kind === 'tightening' || ask.kind === 'loosening') {
    if (kind === 'angle') {
      const angles = ask.stages.flatMap((one) => (one.angle === undefined ? [] : [one.angle]));
      return angles.length > 0
        ? { unit: 'deg', min: Math.min(...angles), max: Math.max(...angles) }
        : undefined;
    }
    if (kind !== 'torque') return undefined;
    const torques = ask.stages.flatMap((one) => (one.torque === undefined ? [] : [one.torque]));
    const unit = ask.stages.find((one) => one.torque !== undefined)?.unit ?? 'N.m';
    return torques.length > 0 && isUnit(unit)
      ? { unit, min: Math.min(...torques), max: Math.max(...torques) }
      : undefined;
  }
  return undefined;
}

function plausible(value: number, unit: string, limits: Limits): boolean {
  if (!isUnit(unit)) return false;
  const same = kindOf(unit) === kindOf(limits.unit) ? convert(value, unit, limits.unit) : value;
  if (typeof same !== 'number') return true;
  const low =
    limits.min === undefined ? undefined : limits.min > 0 ? limits.min / PLAUSIBLE : limits.min;
  const high =
    limits.max === undefined ? undefined : limits.max > 0 ? limits.max * PLAUSIBLE : limits.max;
  return (low === undefined || same >= low) && (high === undefined || same <= high);
}
