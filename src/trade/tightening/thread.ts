import { found, type Result, refused } from '../result.ts';
import { BOLT_CLASSES, type BoltClass, THREADS, type ThreadRow } from '../tables/threads.ts';

/** A metric thread with its derived sizes, lengths in mm, area in mm². */
export type Thread = {
  readonly name: string;
  readonly diameter: number;
  readonly pitch: number;
  readonly pitchDiameter: number;
  readonly minorDiameter: number;
  readonly stressArea: number;
  /** Mean diameter of the face that rubs under a hexagon head. */
  readonly bearingMeanDiameter: number;
};

/**
 * A size as it is said ("M12", "m12x1.25", "M12 × 1,25"): the coarse pitch when none is given.
 *
 * d2 = d − 0.649519 P, d3 = d − 1.226869 P, As = π/4 · ((d2 + d3)/2)², mm and mm². Source: ISO 724, ISO 898-1.
 * Refused: a size outside M6 to M24, or a pitch the size does not have.
 */
export function threadOf(size: string): Result<Thread> {
  const parts = /^m\s*(\d+)(?:\s*[x×*]\s*(\d+(?:[.,]\d+)?))?$/i.exec(size.trim());
  const row = THREADS.find((thread) => thread.diameter === Number(parts?.[1]));
  if (!parts || !row) {
    return refused(
      `"${size}" is not a size in the table.`,
      `Give one of ${THREADS.map((thread) => `M${thread.diameter}`).join(', ')}, with the pitch after an x if it is fine.`,
    );
  }
  const pitch = parts[2] === undefined ? row.coarsePitch : Number(parts[2].replace(',', '.'));
  if (pitch !== row.coarsePitch && !row.finePitches.includes(pitch)) {
    const pitches = [row.coarsePitch, ...row.finePitches].join(', ');
    return refused(
      `M${row.diameter} with a pitch of ${pitch} mm is not in the table.`,
      `Measure the pitch: M${row.diameter} has ${pitches} mm.`,
    );
  }
  return found(derive(row, pitch));
}

function derive(row: ThreadRow, pitch: number): Thread {
  const pitchDiameter = row.diameter - 0.649519 * pitch;
  const minorDiameter = row.diameter - 1.226869 * pitch;
  const coarse = pitch === row.coarsePitch;
  return {
    name: coarse ? `M${row.diameter}` : `M${row.diameter}x${pitch}`,
    diameter: row.diameter,
    pitch,
    pitchDiameter,
    minorDiameter,
    stressArea: (Math.PI / 4) * ((pitchDiameter + minorDiameter) / 2) ** 2,
    bearingMeanDiameter: (row.bearingDiameter + row.clearanceHole) / 2,
  };
}

/** Proof stress and yield strength in MPa of a class at a diameter in mm. Refused: a class not in the table. */
export function strengthOf(
  boltClass: string,
  diameter: number,
): Result<{ readonly proof: number; readonly yield: number }> {
  if (!Object.hasOwn(BOLT_CLASSES, boltClass)) {
    return refused(
      `"${boltClass}" is not a strength class in the table.`,
      `Read the marking on the head: ${Object.keys(BOLT_CLASSES).join(', ')}.`,
    );
  }
  const rows = BOLT_CLASSES[boltClass as BoltClass];
  return found(diameter > 16 ? rows.above16 : rows.upTo16);
}

/** Proof load in newtons: proof stress times stress area. Source: ISO 898-1. */
export function proofLoad(size: string, boltClass: string): Result<number> {
  const thread = threadOf(size);
  if (!thread.ok) return thread;
  const strength = strengthOf(boltClass, thread.value.diameter);
  if (!strength.ok) return strength;
  return found(strength.value.proof * thread.value.stressArea);
}
