import {
  type Basis,
  FIT_BY_MASS,
  FIT_BY_VOLUME,
  type FreezeFit,
  type Glycol,
  HANDBOOK,
} from '../tables/glycol.ts';

/** The freezing point in °C that one source gives at a concentration in per cent, between two concentrations. */
export type FreezeCurve = {
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly at: (percent: number) => number;
};

/** A fit of `tables/glycol.ts` evaluated at a fraction of 0 to 1, °C. */
export function evaluateFit(fit: FreezeFit, fraction: number): number {
  const x = fraction - fit.base;
  const sum = fit.coefficients.reduceRight((total, coefficient) => total * x + coefficient, 0);
  return (fit.logarithm ? Math.exp(sum) : sum) - 273.15;
}

/**
 * The sources that can be asked on a basis. Between the two bases the handbook's own pairs of volume and mass are
 * used. Ethylene glycol's handbook table ends at 57.8 % by volume; from there to 60 % its fit by volume stands alone.
 */
export function curvesFor(glycol: Glycol, by: Basis): readonly FreezeCurve[] {
  const column = by === 'volume' ? 0 : 1;
  const rows = HANDBOOK[glycol];
  const end = rows.at(-1)?.[column] ?? 0;
  const curves: FreezeCurve[] = [
    { name: 'ASHRAE 2001', from: 0, to: end, at: (percent) => lookUp(glycol, column, 2, percent) },
    {
      name: 'Melinder 2010',
      from: 0,
      to: end,
      at: (percent) => {
        const mass = by === 'mass' ? percent : lookUp(glycol, 0, 1, percent);
        return evaluateFit(FIT_BY_MASS[glycol], mass / 100);
      },
    },
  ];
  const fit = FIT_BY_VOLUME[glycol];
  if (by === 'volume' && fit.to * 100 > end) {
    curves.push({
      name: 'ASHRAE 2001 by formula',
      from: end,
      to: fit.to * 100,
      at: (percent) => evaluateFit(fit, percent / 100),
    });
  }
  return curves;
}

/** The warmest of the sources, °C: it falls as the concentration rises. */
export function warmestAt(glycol: Glycol, by: Basis, percent: number): number {
  return Math.max(...pointsAt(glycol, by, percent));
}

/** The coldest of the sources, °C. */
export function coldestAt(glycol: Glycol, by: Basis, percent: number): number {
  return Math.min(...pointsAt(glycol, by, percent));
}

function pointsAt(glycol: Glycol, by: Basis, percent: number): number[] {
  return curvesFor(glycol, by)
    .filter((curve) => percent >= curve.from && percent <= curve.to)
    .map((curve) => curve.at(percent));
}

/** Straight between two rows of the handbook, from one column to another. */
function lookUp(glycol: Glycol, from: 0 | 1, to: 1 | 2, percent: number): number {
  const rows = HANDBOOK[glycol];
  const above = rows.findIndex((row) => row[from] >= percent);
  const high = rows[above];
  const low = rows[above - 1];
  if (!high) return Number.NaN;
  if (!low) return high[to];
  const share = (percent - low[from]) / (high[from] - low[from]);
  return low[to] + share * (high[to] - low[to]);
}
