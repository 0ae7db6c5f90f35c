/**
 * Valve clearances: which readings are out of range, and what brings one to its target, by shim or by screw.
 * All lengths in millimetres. Geometry only; no source needed beyond it.
 */
import type { ValveKind } from './engine-layout.ts';
import { found, type Result, refused } from './result.ts';
import { formatFigure } from './units.ts';

export type ClearanceReading = {
  readonly valve: string;
  readonly kind: ValveKind;
  readonly mm: number;
};
/** The ends are allowed values. */
export type ClearanceLimit = { readonly low: number; readonly high: number };

export type ClearanceOut = ClearanceReading & {
  readonly side: 'tight' | 'wide';
  /** How far beyond the nearer limit, mm, above 0. */
  readonly by: number;
};

/** A tight exhaust clearance burns the valve, a wide one hammers; common practice, no source. */
const WHY_TIGHT = 'A tight clearance closes further as the engine warms and can burn the valve';

/**
 * The readings outside their limits, in the order given.
 *
 * Errors: no readings; a reading below 0 or above 5 mm (more likely thousandths or a slipped point); limits the
 * wrong way round.
 */
export function clearancesOut(
  readings: readonly ClearanceReading[],
  limits: Readonly<Record<ValveKind, ClearanceLimit>>,
): Result<{ readonly out: readonly ClearanceOut[]; readonly answer: string }> {
  if (readings.length === 0) {
    return refused('There are no clearance readings.', 'Give one for each valve, cold, in mm.');
  }
  for (const kind of ['inlet', 'exhaust'] as const) {
    const { low, high } = limits[kind];
    if (!(low >= 0 && high >= low)) {
      return refused(
        `The ${kind} limits ${low} to ${high} mm are not a range.`,
        'Give the lower limit first.',
      );
    }
  }
  const odd = readings.find(({ mm }) => !(mm >= 0 && mm <= 5));
  if (odd) {
    return refused(
      `${odd.mm} mm at ${odd.valve} is no valve clearance.`,
      'Read the gauge again and give millimetres, for example 0.35.',
    );
  }
  const out = readings.flatMap((reading): ClearanceOut[] => {
    const { low, high } = limits[reading.kind];
    if (reading.mm < low) return [{ ...reading, side: 'tight', by: low - reading.mm }];
    return reading.mm > high ? [{ ...reading, side: 'wide', by: reading.mm - high }] : [];
  });
  const range = (kind: ValveKind) => `${kind} ${limits[kind].low} to ${limits[kind].high} mm`;
  const basis = `Limits of the plan: ${range('inlet')}, ${range('exhaust')}`;
  if (out.length === 0) {
    return found({ out, answer: `All ${readings.length} clearances in range. ${basis}.` });
  }
  const list = out.map((o) => `${o.valve} ${o.mm} mm (${o.side} by ${formatFigure(o.by, 3)} mm)`);
  const caution = out.some((o) => o.side === 'tight') ? ` ${WHY_TIGHT}.` : '';
  return found({
    out,
    answer: `${out.length} of ${readings.length} out of range: ${list.join(', ')}. ${basis}.${caution}`,
  });
}

export type ShimChoice = {
  /** Thickness that gives the target exactly, mm. */
  readonly exact: number;
  /** Thickness to fit: the nearest available one, or the exact one if none were given, mm. */
  readonly fit: number;
  /** The clearance that the fitted shim will give, mm. */
  readonly leaves: number;
  readonly answer: string;
};

/**
 * The shim that brings a clearance to its target, for a shim that fills the gap (cam on bucket, or under the rocker).
 *
 * fit = fitted + reading - target: a wide clearance takes a thicker shim.
 *
 * Errors: figures that are not lengths; a shim that would need no thickness at all. With `sizes`, the nearest one is
 * taken, at a tie the thinner, since a clearance is safer a little wide than a little tight.
 */
export function shimFor(given: {
  readonly reading: number;
  readonly target: number;
  readonly fitted: number;
  readonly sizes?: readonly number[];
}): Result<ShimChoice> {
  const { reading, target, fitted, sizes = [] } = given;
  if (![reading, target, fitted, ...sizes].every((mm) => Number.isFinite(mm) && mm >= 0)) {
    return refused(
      'A clearance or a shim thickness is missing.',
      'Give the reading, the target and the shim that is in now, all in mm.',
    );
  }
  const exact = fitted + reading - target;
  if (exact <= 0) {
    return refused(
      `No shim is thin enough: ${fitted} mm is in, and the gap must open by ${formatFigure(target - reading, 3)} mm.`,
      'Measure the shim and the gap again; the valve may have sunk into its seat.',
    );
  }
  const byFit = [...sizes].sort((a, b) => Math.abs(a - exact) - Math.abs(b - exact) || a - b);
  const fit = byFit[0] ?? exact;
  const leaves = reading + fitted - fit;
  const basis = `${fitted} mm in now, reading ${reading} mm, target ${target} mm`;
  const nearest =
    byFit.length > 0
      ? `, the nearest to ${formatFigure(exact)} mm; it leaves ${formatFigure(leaves, 3)} mm`
      : '';
  const answer = `Shim ${formatFigure(fit)} mm${nearest}. ${basis}. Measure the gap again once it is in.`;
  return found({ exact, fit, leaves, answer });
}

export type AdjusterTurn = {
  /** Degrees of the screw, above 0. */
  readonly degrees: number;
  /** `in` closes the gap. */
  readonly direction: 'in' | 'out' | 'none';
  readonly answer: string;
};

/**
 * How far to turn an adjusting screw from a reading to the target.
 *
 * degrees = 360 · (reading - target) / (pitch · gain), where `gain` is how much the measured gap changes for one mm
 * of screw travel: 1 where the feeler sits under the screw, the rocker ratio where the screw is at the push rod.
 *
 * Errors: figures that are not lengths; a pitch outside 0.2 to 3 mm; a gain outside 0.2 to 5.
 */
export function adjusterTurn(given: {
  readonly reading: number;
  readonly target: number;
  readonly pitch: number;
  readonly gain?: number;
}): Result<AdjusterTurn> {
  const { reading, target, pitch, gain = 1 } = given;
  if (![reading, target].every((mm) => mm >= 0 && mm <= 5)) {
    return refused(
      'The reading or the target is no valve clearance.',
      'Give both in mm, for example 0.45 and 0.35.',
    );
  }
  if (!(pitch >= 0.2 && pitch <= 3)) {
    return refused(
      `A screw pitch of ${pitch} mm is not found on an adjuster.`,
      'Measure the pitch with a thread gauge: it is the travel of one turn, often 0.75 or 1 mm.',
    );
  }
  if (!(gain >= 0.2 && gain <= 5)) {
    return refused(
      `A rocker ratio of ${gain} is out of proportion.`,
      'Give how much the gap changes for one mm of screw travel, often 1 to 1.8.',
    );
  }
  const signed = (360 * (reading - target)) / (pitch * gain);
  const degrees = Math.abs(signed) < 1e-9 ? 0 : Math.abs(signed);
  const direction = degrees === 0 ? 'none' : signed > 0 ? 'in' : 'out';
  const basis = `From ${reading} to ${target} mm with a pitch of ${pitch} mm${gain === 1 ? '' : ` and a ratio of ${gain}`}`;
  const turn =
    direction === 'none'
      ? 'No turn'
      : `${formatFigure(degrees, 3)}° ${direction} (${direction === 'in' ? 'closes' : 'opens'} the gap)`;
  const answer = `${turn}. ${basis}. Check with the feeler after the locknut is tight: it draws the screw.`;
  return found({ degrees, direction, answer });
}
