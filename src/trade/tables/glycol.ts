/**
 * Freezing points of glycol and water, from two sources that do not agree to better than about 3 K.
 *
 * Handbook table: ASHRAE Handbook Fundamentals 2001, by mass and by volume, as kept in the CoolProp repository (MIT).
 * Formulas: CoolProp 8.0.0 (MIT). By mass after Melinder, Properties of Secondary Working Fluids for Indirect Systems,
 * IIR 2010; by volume a fit to ASHRAE 2001 (Skovrup 2013).
 */

export type Glycol = 'ethylene' | 'propylene';

/** How a concentration is counted. A workshop's tester and the label on a can count by volume. */
export type Basis = 'volume' | 'mass';

/** A fit by powers of (fraction − base), giving kelvin, or the logarithm of kelvin. Valid between two fractions. */
export type FreezeFit = {
  readonly base: number;
  readonly coefficients: readonly number[];
  readonly logarithm: boolean;
  readonly from: number;
  readonly to: number;
};

/** By mass, Melinder 2010. */
export const FIT_BY_MASS: Record<Glycol, FreezeFit> = {
  ethylene: {
    base: 0.308462,
    coefficients: [257.9, -80.8, -133.4, -72.93, 100.6, 11.4],
    logarithm: false,
    from: 0.0,
    to: 0.6,
  },
  propylene: {
    base: 0.307031,
    coefficients: [259.9, -66.31, -109.4, -228.3, -340.9, 146.5],
    logarithm: false,
    from: 0.0,
    to: 0.6,
  },
};

/** By volume, ASHRAE 2001. */
export const FIT_BY_VOLUME: Record<Glycol, FreezeFit> = {
  ethylene: {
    base: 0.35,
    coefficients: [5.534468, -0.3574293, -0.6535113, -0.9039166, 1.048048, 4.622116],
    logarithm: true,
    from: 0.1,
    to: 0.6,
  },
  propylene: {
    base: 0.35,
    coefficients: [5.546103, -0.326277, -0.6666873, -0.8800598, -1.071417, -1.875782],
    logarithm: true,
    from: 0.1,
    to: 0.6,
  },
};

/** One row of the handbook: per cent by volume, per cent by mass, freezing point in °C. */
export type HandbookRow = readonly [volume: number, mass: number, celsius: number];

const ETHYLENE: readonly HandbookRow[] = [
  [0, 0, 0],
  [4.4, 5, -1.4],
  [8.9, 10, -3.2],
  [13.6, 15, -5.4],
  [18.1, 20, -7.8],
  [19.2, 21, -8.4],
  [20.1, 22, -8.9],
  [21, 23, -9.5],
  [22, 24, -10.2],
  [22.9, 25, -10.7],
  [23.9, 26, -11.4],
  [24.8, 27, -12],
  [25.8, 28, -12.7],
  [26.7, 29, -13.3],
  [27.7, 30, -14.1],
  [28.7, 31, -14.8],
  [29.6, 32, -15.4],
  [30.6, 33, -16.2],
  [31.6, 34, -17],
  [32.6, 35, -17.9],
  [33.5, 36, -18.6],
  [34.5, 37, -19.4],
  [35.5, 38, -20.3],
  [36.5, 39, -21.3],
  [37.5, 40, -22.3],
  [38.5, 41, -23.2],
  [39.5, 42, -24.3],
  [40.5, 43, -25.3],
  [41.5, 44, -26.4],
  [42.5, 45, -27.5],
  [43.5, 46, -28.8],
  [44.5, 47, -29.8],
  [45.5, 48, -31.1],
  [46.6, 49, -32.6],
  [47.6, 50, -33.8],
  [48.6, 51, -35.1],
  [49.6, 52, -36.4],
  [50.6, 53, -37.9],
  [51.6, 54, -39.3],
  [52.7, 55, -41.1],
  [53.7, 56, -42.6],
  [54.7, 57, -44.2],
  [55.7, 58, -45.6],
  [56.8, 59, -47.1],
  [57.8, 60, -48.3],
];

const PROPYLENE: readonly HandbookRow[] = [
  [0, 0, 0],
  [4.8, 5, -1.6],
  [9.6, 10, -3.3],
  [14.5, 15, -5.1],
  [19.4, 20, -7.1],
  [20.4, 21, -7.6],
  [21.4, 22, -8],
  [22.4, 23, -8.6],
  [23.4, 24, -9.1],
  [24.4, 25, -9.6],
  [25.3, 26, -10.2],
  [26.4, 27, -10.8],
  [27.4, 28, -11.4],
  [28.4, 29, -12],
  [29.4, 30, -12.7],
  [30.4, 31, -13.4],
  [31.4, 32, -14.1],
  [32.4, 33, -14.8],
  [33.5, 34, -15.6],
  [34.4, 35, -16.4],
  [35.5, 36, -17.3],
  [36.5, 37, -18.2],
  [37.5, 38, -19.1],
  [38.5, 39, -20.1],
  [39.6, 40, -21.1],
  [40.6, 41, -22.1],
  [41.6, 42, -23.2],
  [42.6, 43, -24.3],
  [43.7, 44, -25.5],
  [44.7, 45, -26.7],
  [45.7, 46, -27.9],
  [46.8, 47, -29.3],
  [47.8, 48, -30.6],
  [48.9, 49, -32.1],
  [49.9, 50, -33.5],
  [50.9, 51, -35],
  [51.9, 52, -36.6],
  [53, 53, -38.2],
  [54, 54, -39.8],
  [55, 55, -41.6],
  [56, 56, -43.3],
  [57, 57, -45.2],
  [58, 58, -47.1],
  [59, 59, -49],
  [60, 60, -51.1],
];

/** The handbook's table, weakest first. */
export const HANDBOOK: Record<Glycol, readonly HandbookRow[]> = {
  ethylene: ETHYLENE,
  propylene: PROPYLENE,
};
