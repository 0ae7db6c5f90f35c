// Figures that are measured: quantities, and volumes drained or filled.
import type { Ask, Step } from '../../../../shared/plan.ts';
import { symbolOf, type Unit } from '../../../trade/units.ts';
import type { Fact } from '../../facts/fact.ts';
import { type FluidAsk, fluidAsks, inUnit, litres, sameKind } from '../../facts/measure.ts';
import type { Plan } from '../../plan.ts';
import {
  type AskState,
  type FigureRecord,
  isWithin,
  limitOf,
  NOTHING,
  sourceOf,
} from './ask-state.ts';

type QuantityAsk = Extract<Ask, { kind: 'quantity' }>;

const quantityAsks = (step: Step): readonly QuantityAsk[] =>
  (step.report ?? []).filter((ask): ask is QuantityAsk => ask.kind === 'quantity');

/**
 * Measured values of a step. Where it asks for two of the same kind, the first figure answers the first that has
 * none. A second figure for the same thing stays beside the first until it is settled which holds.
 */
export function quantityStates(
  plan: Plan,
  step: Step,
  facts: readonly Fact[],
): ReadonlyMap<Ask, AskState> {
  const asks = quantityAsks(step);
  const figures = new Map<QuantityAsk, FigureRecord[]>(asks.map((ask) => [ask, []]));
  for (const fact of facts) {
    const { quantity } = fact.report.act;
    if (quantity === undefined) continue;
    const fitting = asks.filter((ask) => sameKind(quantity.unit, ask.unit));
    const ask = fitting.find((one) => figures.get(one)?.length === 0) ?? fitting.at(-1);
    if (ask === undefined) continue;
    const limit = limitOf(ask, ask.unit, sourceOf(plan, step, ask.source));
    const within = limit && isWithin(quantity, limit);
    figures.get(ask)?.push({
      of: ask.of,
      part: asks.length > 1 ? ask.of : null,
      quantity,
      facts: [fact],
      ...(limit && { limit }),
      ...(within !== undefined && { within }),
      assumed: false,
    });
  }
  return new Map(
    asks.map((ask): [Ask, AskState] => {
      const found = figures.get(ask) ?? [];
      const unit = symbolOf(ask.unit as Unit);
      return [
        ask,
        {
          ...NOTHING,
          missing: found.length > 0 ? [] : [`the ${ask.of}${unit === '' ? '' : ` in ${unit}`}`],
          blocks: true,
          unsaid: found.length === 0,
          known: found[0]?.facts[0]?.order ?? -1,
          figures: found,
        },
      ];
    }),
  );
}

/** A volume drained or filled: all containers of the run together, in the plan's unit. */
export function volumeState(
  plan: Plan,
  step: Step,
  ask: FluidAsk,
  facts: readonly Fact[],
): AskState {
  const unit = ask.unit ?? 'L';
  const measured = facts.filter(({ report }) => litres(report.act.quantity) !== undefined);
  const [first] = measured;
  const title = plan.fluids?.[ask.fluid]?.title ?? ask.fluid;
  if (first === undefined) {
    return {
      ...NOTHING,
      missing: [`the volume of ${title} in ${symbolOf(unit as Unit)}`],
      blocks: true,
      unsaid: true,
    };
  }
  const total = measured.reduce((sum, { report }) => sum + (volumeIn(report.act, unit) ?? 0), 0);
  const limit = limitOf(ask, unit, sourceOf(plan, step, ask.source));
  // Until the draining is said to be done, a small volume is only a part of it.
  const said = facts.some(({ report }) => report.act.kind === 'done');
  const tooMuch =
    ask.max !== undefined &&
    isWithin({ value: total, unit }, { max: ask.max, unit, source: '' }) === false;
  const tooLittle =
    ask.min !== undefined &&
    isWithin({ value: total, unit }, { min: ask.min, unit, source: '' }) === false;
  return {
    ...NOTHING,
    blocks: true,
    known: first.order,
    figures: [
      {
        of: `${title} ${ask.kind}`,
        part: fluidAsks(step).length > 1 ? ask.fluid : null,
        quantity: { value: total, unit },
        facts: measured,
        ...(limit && { limit, within: !tooMuch && !(tooLittle && said) }),
        assumed: false,
      },
    ],
  };
}

const volumeIn = (act: Fact['report']['act'], unit: string): number | undefined =>
  act.quantity && inUnit(act.quantity.value, act.quantity.unit, unit);
