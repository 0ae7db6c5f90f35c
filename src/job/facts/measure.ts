import type { Ask, Step } from '../../../shared/plan.ts';
import type { Act, Quantity } from '../../../shared/reading.ts';
import { bareCode } from '../../trade/look-alike.ts';
import { convert, isUnit, kindOf } from '../../trade/units.ts';

/** Figures that differ by less than this share are the same figure in another unit. */
const DUST = 1e-9;

/** A figure in another unit; undefined where the two measure different things. */
export function inUnit(value: number, from: string, to: string): number | undefined {
  if (!isUnit(from) || !isUnit(to)) return undefined;
  const changed = convert(value, from, to);
  return typeof changed === 'number' ? changed : undefined;
}

/** Whether a unit measures what another does, so that a figure in it can answer. */
export const sameKind = (from: string, to: string): boolean => inUnit(1, from, to) !== undefined;

/** The volume of an act in litres; undefined where it has none. */
export function litres(quantity: Quantity | undefined): number | undefined {
  return quantity === undefined ? undefined : inUnit(quantity.value, quantity.unit, 'L');
}

export type FluidAsk = Extract<Ask, { kind: 'drained' | 'filled' }>;

export const fluidAsks = (step: Step | undefined): readonly FluidAsk[] =>
  (step?.report ?? []).filter(
    (ask): ask is FluidAsk => ask.kind === 'drained' || ask.kind === 'filled',
  );

/** Whether an act adds a volume to what was drained or filled: two top-ups of 2 L are two. */
export const isVolume = (step: Step | undefined, act: Act): boolean =>
  fluidAsks(step).length > 0 && litres(act.quantity) !== undefined;

/** Equal but for what changing units leaves behind. */
export const near = (a: number, b: number): boolean =>
  Math.abs(a - b) <= DUST * Math.max(1, Math.abs(a), Math.abs(b));

/** Whether two acts of one step give figures that cannot both be so. Volumes add up and never contradict. */
export function contradicts(step: Step | undefined, earlier: Act, later: Act): boolean {
  if (earlier.stage !== later.stage || earlier.valve !== later.valve) return false;
  if (!isVolume(step, later) && earlier.quantity && later.quantity) {
    const { value, unit } = later.quantity;
    const changed = inUnit(value, unit, earlier.quantity.unit);
    if (changed !== undefined && !near(changed, earlier.quantity.value)) return true;
  }
  const troubleCodes = step?.report?.some((ask) => ask.kind === 'trouble-codes') ?? false;
  if (!troubleCodes && earlier.code !== undefined && later.code !== undefined) {
    if (bareCode(earlier.code) !== bareCode(later.code)) return true;
  }
  return (
    earlier.angle !== undefined &&
    later.angle !== undefined &&
    !near(earlier.angle.value, later.angle.value)
  );
}

/** Whether an act carries anything a plan may ask to be reported. */
export const hasFigure = (act: Act): boolean =>
  act.quantity !== undefined ||
  act.angle !== undefined ||
  act.stage !== undefined ||
  act.count !== undefined ||
  act.code !== undefined;

/** Whether a unit is one of torque. */
export const isTorque = (unit: string): boolean => isUnit(unit) && kindOf(unit) === kindOf('N.m');
