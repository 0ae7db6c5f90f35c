import type { Thread } from './thread.ts';

/**
 * Tightening torque in N·m for a preload in N, by friction:
 * M = F (0.16 P + 0.58 d2 µ + Dkm/2 µ), lengths in mm, the same µ in the thread and under the head.
 * Source: VDI 2230 part 1 (2003).
 */
export function torqueByFriction(preload: number, thread: Thread, friction: number): number {
  return (preload * frictionArm(thread, friction)) / 1000;
}

/** Preload in N that a torque in N·m leaves, by friction: the inverse of {@link torqueByFriction}. */
export function preloadByFriction(torque: number, thread: Thread, friction: number): number {
  return (torque * 1000) / frictionArm(thread, friction);
}

function frictionArm(thread: Thread, friction: number): number {
  return (
    0.16 * thread.pitch +
    0.58 * thread.pitchDiameter * friction +
    (thread.bearingMeanDiameter / 2) * friction
  );
}

/**
 * The preload in N at which tension and torsion together reach 90 % of the yield strength (MPa):
 * F = 0.9 Rp0.2 As / √(1 + 3 [1.5 (d2/dS) (P/(π d2) + 1.155 µ)]²), dS = (d2 + d3)/2.
 * Source: VDI 2230 part 1 (2003).
 */
export function assemblyPreload(thread: Thread, yieldStrength: number, friction: number): number {
  const stressDiameter = (thread.pitchDiameter + thread.minorDiameter) / 2;
  const lead = thread.pitch / (Math.PI * thread.pitchDiameter) + 1.155 * friction;
  const twist = 1.5 * (thread.pitchDiameter / stressDiameter) * lead;
  return (0.9 * yieldStrength * thread.stressArea) / Math.sqrt(1 + 3 * twist ** 2);
}

/** T = K d F: torque in N·m from the nut factor, the diameter in mm and the preload in N. Source: Shigley, ch. 8. */
export function torqueByNutFactor(nutFactor: number, diameter: number, preload: number): number {
  return (nutFactor * diameter * preload) / 1000;
}

/** F = T/(K d): preload in N from a torque in N·m, the nut factor and the diameter in mm. Source: Shigley, ch. 8. */
export function preloadByNutFactor(nutFactor: number, diameter: number, torque: number): number {
  return (torque * 1000) / (nutFactor * diameter);
}

/**
 * The nut factor from friction, for 60° threads and a bearing face 1.25 d across on average:
 * K = (dm/2d) (tan λ + f sec 30°)/(1 − f tan λ sec 30°) + 0.625 fc, tan λ = P/(π dm). Any one unit of length.
 * Source: Shigley, ch. 8.
 */
export function nutFactorOf(joint: {
  readonly diameter: number;
  readonly pitch: number;
  readonly meanDiameter: number;
  readonly threadFriction: number;
  readonly faceFriction: number;
}): number {
  const lead = joint.pitch / (Math.PI * joint.meanDiameter);
  const slope = joint.threadFriction / Math.cos(Math.PI / 6);
  const thread =
    (joint.meanDiameter / (2 * joint.diameter)) * ((lead + slope) / (1 - slope * lead));
  return thread + 0.625 * joint.faceFriction;
}

/**
 * Stress in a bolt in MPa: (F + C·P)/As, with the preload F and an outside load P in N of which the bolt takes the
 * share C, and the stress area in mm². Source: Shigley, ch. 8.
 */
export function boltStress(
  preload: number,
  stressArea: number,
  outside: { readonly load: number; readonly share: number } = { load: 0, share: 0 },
): number {
  return (preload + outside.share * outside.load) / stressArea;
}
