import type { Step } from '../../../../shared/plan.ts';
import type { Quantity } from '../../../../shared/reading.ts';
import type { Fact } from '../../facts/fact.ts';
import { inUnit, near } from '../../facts/measure.ts';
import type { Plan } from '../../plan.ts';

/** A range of the plan with where it comes from. */
export type Limit = {
  readonly min?: number;
  readonly max?: number;
  readonly unit: string;
  readonly source: string;
};

/** A figure on record, or one the plan's value stands for. */
export type FigureRecord = {
  readonly of: string;
  /** The stage, valve or measured thing it belongs to; null where the step has only one figure. */
  readonly part: string | null;
  readonly quantity: Quantity;
  readonly facts: readonly Fact[];
  readonly limit?: Limit;
  readonly within?: boolean;
  readonly assumed: boolean;
  /** For a count of what goes back on: how many came off. */
  readonly needed?: number;
};

/** How far one thing to be reported is reported. */
export type AskState = {
  /** What is still wanted, in plain words; empty when all is there. */
  readonly missing: readonly string[];
  /** Whether the step counts as done without it. */
  readonly blocks: boolean;
  /** Set where nothing at all was said of it: the figure is missing, the work may have been done. */
  readonly unsaid?: boolean;
  /** The work it stands for was not over before this time; -Infinity where a figure says nothing about the time. */
  readonly at: number;
  /** Posting order of the last report it needed. */
  readonly known: number;
  readonly figures: readonly FigureRecord[];
  readonly assumed: readonly string[];
};

export const NOTHING: AskState = {
  missing: [],
  blocks: false,
  at: -Infinity,
  known: -1,
  figures: [],
  assumed: [],
};

/** Where a limit comes from: its own source, else the step's, else the plan's. */
export const sourceOf = (plan: Plan, step: Step, own: string | undefined): string =>
  own ?? step.source ?? plan.source ?? 'the plan';

/** A limit as it is kept, without the ends the plan leaves open. */
export function limitOf(
  range: { readonly min?: number | undefined; readonly max?: number | undefined },
  unit: string,
  source: string,
): Limit | undefined {
  if (range.min === undefined && range.max === undefined) return undefined;
  return {
    ...(range.min !== undefined && { min: range.min }),
    ...(range.max !== undefined && { max: range.max }),
    unit,
    source,
  };
}

/** Whether a figure lies within a limit; its ends are allowed values. Undefined where it cannot be compared. */
export function isWithin(quantity: Quantity, limit: Limit): boolean | undefined {
  const low = inUnit(quantity.low ?? quantity.value, quantity.unit, limit.unit);
  const high = inUnit(quantity.high ?? quantity.value, quantity.unit, limit.unit);
  if (low === undefined || high === undefined) return undefined;
  const overMin = limit.min === undefined || low > limit.min || near(low, limit.min);
  const underMax = limit.max === undefined || high < limit.max || near(high, limit.max);
  return overMin && underMax;
}
