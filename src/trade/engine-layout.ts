/**
 * An engine as the valve round needs it: which cylinder fires at which crank angle, and which valves it has.
 * Four-stroke engines only: one cycle is two turns of the crank, 720 degrees.
 */
import { found, type Result, refused } from './result.ts';

/** One cycle of a four-stroke engine, in degrees of crank. */
export const CYCLE = 720;

export type ValveKind = 'inlet' | 'exhaust';

/** One valve, or one bridge where a rocker works a pair. `number` counts from 1 within its cylinder and kind. */
export type Valve = {
  readonly cylinder: number;
  readonly kind: ValveKind;
  readonly number: number;
  /** "cylinder 3 exhaust", or "cylinder 3 exhaust 2" where there are several. */
  readonly name: string;
};

export type Engine = {
  readonly firingOrder: readonly number[];
  /** Crank angle in degrees, 0 up to 720, at which each cylinder stands at its firing top dead centre. */
  readonly firesAt: ReadonlyMap<number, number>;
  /** In firing order, inlet before exhaust. */
  readonly valves: readonly Valve[];
};

export type EngineDescription = {
  /** Cylinder numbers in the order in which they fire. */
  readonly firingOrder: readonly number[];
  /** Degrees of crank from each cylinder in the order to the next, adding up to 720. Left out: equal. */
  readonly intervals?: readonly number[];
  /** Clearances to be set at each cylinder. Left out: one inlet and one exhaust. */
  readonly perCylinder?: { readonly inlet: number; readonly exhaust: number };
};

/**
 * Lays an engine out from its firing order.
 *
 * Errors: a cylinder named twice or not a whole number above 0; intervals that do not go once round (720 degrees
 * within 0.01); a number of valves that is not a whole number, or none at all.
 */
export function layEngine(description: EngineDescription): Result<Engine> {
  const { firingOrder, intervals, perCylinder = { inlet: 1, exhaust: 1 } } = description;
  if (firingOrder.length === 0) {
    return refused('The firing order is empty.', 'Give it in full, for example 1-5-3-6-2-4.');
  }
  for (const [place, cylinder] of firingOrder.entries()) {
    if (!Number.isInteger(cylinder) || cylinder < 1) {
      return refused(
        `"${cylinder}" in the firing order is not a cylinder number.`,
        'Give whole numbers from 1.',
      );
    }
    if (firingOrder.indexOf(cylinder) !== place) {
      return refused(
        `Cylinder ${cylinder} is in the firing order twice.`,
        'Read the firing order from the engine again: each cylinder fires once.',
      );
    }
  }
  const steps = intervals ?? firingOrder.map(() => CYCLE / firingOrder.length);
  if (steps.length !== firingOrder.length || steps.some((step) => !(step >= 0))) {
    return refused(
      `There are ${steps.length} firing intervals for ${firingOrder.length} cylinders, each must be 0 degrees or more.`,
      'Give one interval from each cylinder to the next, the last one back to the first.',
    );
  }
  const around = steps.reduce((sum, step) => sum + step, 0);
  if (Math.abs(around - CYCLE) > 0.01) {
    return refused(
      `The firing intervals add up to ${around} degrees, a four-stroke cycle has 720.`,
      'Read the intervals again; two-stroke engines are not covered.',
    );
  }
  const counts = [perCylinder.inlet, perCylinder.exhaust];
  if (counts.some((n) => !Number.isInteger(n) || n < 0) || counts.every((n) => n === 0)) {
    return refused(
      'The number of clearances at each cylinder is not given in whole numbers.',
      'Say how many inlet and how many exhaust clearances are set at one cylinder.',
    );
  }
  const firesAt = new Map<number, number>();
  let angle = 0;
  for (const [place, cylinder] of firingOrder.entries()) {
    firesAt.set(cylinder, angle % CYCLE);
    angle += steps[place] ?? 0;
  }
  const valves = firingOrder.flatMap((cylinder) => [
    ...valvesOf(cylinder, 'inlet', perCylinder.inlet),
    ...valvesOf(cylinder, 'exhaust', perCylinder.exhaust),
  ]);
  return found({ firingOrder, firesAt, valves });
}

function valvesOf(cylinder: number, kind: ValveKind, count: number): readonly Valve[] {
  return Array.from({ length: count }, (_, index) => ({
    cylinder,
    kind,
    number: index + 1,
    name: `cylinder ${cylinder} ${kind}${count > 1 ? ` ${index + 1}` : ''}`,
  }));
}

/** An angle brought into 0 up to 720 degrees. */
export function withinCycle(angle: number): number {
  return ((angle % CYCLE) + CYCLE) % CYCLE;
}
