/**
 * ISO metric threads M6 to M24 and the strength classes of bolts.
 *
 * Pitches: ISO 261 and ISO 262. Bearing diameter under the hexagon head, smallest: ISO 4014. Clearance hole, medium
 * series: ISO 273. Proof stress: ISO 898-1 (proof loads as reprinted by fastener suppliers); yield strength Rp0.2:
 * ISO 898-1. Pitches, diameters, holes and yield strengths are written from memory; they are held by the published
 * proof loads and by the published VDI 2230 forces and torques in the tests.
 */

/** Sizes of a nominal diameter, lengths in mm. */
export type ThreadRow = {
  readonly diameter: number;
  readonly coarsePitch: number;
  readonly finePitches: readonly number[];
  readonly bearingDiameter: number;
  readonly clearanceHole: number;
};

export const THREADS: readonly ThreadRow[] = [
  { diameter: 6, coarsePitch: 1, finePitches: [0.75], bearingDiameter: 8.88, clearanceHole: 6.6 },
  { diameter: 8, coarsePitch: 1.25, finePitches: [1], bearingDiameter: 11.63, clearanceHole: 9 },
  {
    diameter: 10,
    coarsePitch: 1.5,
    finePitches: [1.25, 1],
    bearingDiameter: 14.63,
    clearanceHole: 11,
  },
  {
    diameter: 12,
    coarsePitch: 1.75,
    finePitches: [1.5, 1.25],
    bearingDiameter: 16.63,
    clearanceHole: 13.5,
  },
  { diameter: 14, coarsePitch: 2, finePitches: [1.5], bearingDiameter: 19.64, clearanceHole: 15.5 },
  { diameter: 16, coarsePitch: 2, finePitches: [1.5], bearingDiameter: 22.49, clearanceHole: 17.5 },
  {
    diameter: 18,
    coarsePitch: 2.5,
    finePitches: [2, 1.5],
    bearingDiameter: 25.34,
    clearanceHole: 20,
  },
  {
    diameter: 20,
    coarsePitch: 2.5,
    finePitches: [2, 1.5],
    bearingDiameter: 28.19,
    clearanceHole: 22,
  },
  {
    diameter: 22,
    coarsePitch: 2.5,
    finePitches: [2, 1.5],
    bearingDiameter: 31.71,
    clearanceHole: 24,
  },
  { diameter: 24, coarsePitch: 3, finePitches: [2], bearingDiameter: 33.61, clearanceHole: 26 },
];

/** Strength classes as they are marked on the head. */
export type BoltClass = '8.8' | '10.9' | '12.9';

/** Stresses in MPa. Class 8.8 is stronger above 16 mm. */
export const BOLT_CLASSES: Record<
  BoltClass,
  {
    readonly upTo16: { readonly proof: number; readonly yield: number };
    readonly above16: { readonly proof: number; readonly yield: number };
  }
> = {
  '8.8': { upTo16: { proof: 580, yield: 640 }, above16: { proof: 600, yield: 660 } },
  '10.9': { upTo16: { proof: 830, yield: 940 }, above16: { proof: 830, yield: 940 } },
  '12.9': { upTo16: { proof: 970, yield: 1100 }, above16: { proof: 970, yield: 1100 } },
};

/** How the thread and the face under the head are when the bolt is turned. */
export type Surface = 'lubricated' | 'zinc-dry' | 'dry';

/**
 * Friction: the guide ranges of VDI 2230, class B (0.08 to 0.16, oil or grease) and class C (0.14 to 0.24, none), as
 * reprinted by fastener suppliers. Nut factor K: Shigley's Mechanical Engineering Design, chapter 8. Scatter of the
 * preload at one torque: ±25 % oiled, ±35 % dry (NASA criteria, as cited in a paper).
 */
export const SURFACES: Record<
  Surface,
  {
    readonly says: string;
    readonly friction: readonly [number, number];
    readonly nutFactor: number;
    readonly scatter: number;
  }
> = {
  lubricated: { says: 'lubricated', friction: [0.08, 0.16], nutFactor: 0.18, scatter: 0.25 },
  'zinc-dry': { says: 'zinc plated, dry', friction: [0.14, 0.24], nutFactor: 0.2, scatter: 0.35 },
  dry: { says: 'plain, dry', friction: [0.14, 0.24], nutFactor: 0.3, scatter: 0.35 },
};
