/** Battery and resistance readings against the plan's limits, with what warmth and test leads add taken off. */
import { found, type Result, refused } from './result.ts';
import { formatQuantity, kindOf, type Unit } from './units.ts';

/** The ends are allowed values; at least one is given. */
export type ElectricalLimits = {
  readonly low?: number;
  readonly high?: number;
  /** Whose limits they are, for the answer; the plan's when left out. */
  readonly of?: string;
};

export type ElectricalVerdict = {
  /** The value that was compared, in the unit of the reading. */
  readonly value: number;
  readonly side: 'within' | 'low' | 'high';
  readonly answer: string;
};

/**
 * A voltage, current or resistance against limits in the same unit.
 *
 * @param given.what what was measured, for the answer: "battery at rest".
 * Errors: no figure; a unit that is not electrical; no limit, or limits the wrong way round; a resistance below 0.
 */
export function checkElectrical(given: {
  readonly what: string;
  readonly value: number;
  readonly unit: Unit;
  readonly limits: ElectricalLimits;
}): Result<ElectricalVerdict> {
  const { what, value, unit, limits } = given;
  const kind = kindOf(unit);
  if (!['voltage', 'current', 'resistance'].includes(kind)) {
    return refused(`${what} is given as ${kind}.`, 'Give it in V, A or Ω.');
  }
  if (!Number.isFinite(value)) {
    return refused(
      `There is no figure for ${what}.`,
      'Give the number on the meter; if it shows overload, report an open circuit.',
    );
  }
  if (kind === 'resistance' && value < 0) {
    return refused(
      `${formatQuantity(value, unit)} is below nothing for ${what}.`,
      'Part the circuit from its supply, zero the meter and measure again.',
    );
  }
  const { low, high } = limits;
  if ((low === undefined && high === undefined) || (low ?? -Infinity) > (high ?? Infinity)) {
    return refused(
      `The plan gives no usable limits for ${what}.`,
      'Write a lower limit, an upper limit, or both, the lower first.',
    );
  }
  const side = value < (low ?? -Infinity) ? 'low' : value > (high ?? Infinity) ? 'high' : 'within';
  const range = [
    low === undefined ? '' : `at least ${formatQuantity(low, unit)}`,
    high === undefined ? '' : `at most ${formatQuantity(high, unit)}`,
  ].filter((part) => part !== '');
  const verdict = side === 'within' ? 'within' : `too ${side} for`;
  const again =
    side === 'within' ? '' : ' Clean the contacts and measure once more before changing the part.';
  const answer = `${formatQuantity(value, unit)} ${what}: ${verdict} ${limits.of ?? "the plan's limits"} (${range.join(', ')}).${again}`;
  return found({ value, side, answer });
}

/** Change of resistance of annealed copper for each kelvin, at 20 °C: 0.00393 (IEC 60028; from memory). */
const COPPER_PER_KELVIN = 0.00393;

/**
 * What a copper winding (injector, solenoid, sensor coil) measured warm would show at 20 °C, in the unit given.
 *
 * R20 = (R - leads) / (1 + 0.00393 · (t - 20)), t in °C.
 *
 * @param given.leads resistance of the test leads touched together, same unit; 0 if zeroed.
 * Errors: figures missing; a temperature outside -40 to 150 °C; leads above the reading.
 */
export function windingAt20(given: {
  readonly value: number;
  readonly unit: Unit;
  readonly celsius: number;
  readonly leads?: number;
}): Result<{ readonly value: number; readonly answer: string }> {
  const { value, unit, celsius, leads = 0 } = given;
  if (kindOf(unit) !== 'resistance' || !(value >= 0)) {
    return refused('There is no resistance to correct.', 'Give the reading in Ω.');
  }
  if (!(celsius >= -40 && celsius <= 150)) {
    return refused(
      `${celsius} °C is outside what is measured by hand on a winding (-40 to 150 °C).`,
      'Give the temperature of the part in °C.',
    );
  }
  if (!(leads >= 0 && leads <= value)) {
    return refused(
      `The test leads (${leads}) cannot have more than the whole reading (${value}).`,
      'Touch the leads together, note what they show, and measure again.',
    );
  }
  const at20 = (value - leads) / (1 + COPPER_PER_KELVIN * (celsius - 20));
  const net = leads > 0 ? ` less ${formatQuantity(leads, unit)} for the leads` : '';
  const answer = `${formatQuantity(at20, unit)} at 20 °C, from ${formatQuantity(value, unit)}${net} at ${formatQuantity(celsius, 'Cel')} (copper, 0.393 % per kelvin). Only for a plain copper winding, not for a heater or a temperature sensor.`;
  return found({ value: at20, answer });
}
