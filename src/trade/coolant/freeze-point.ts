import { sayAnswer } from '../answer.ts';
import { figureBetween } from '../quantity.ts';
import { found, type Result, refused } from '../result.ts';
import { type Basis, type Glycol, HANDBOOK } from '../tables/glycol.ts';
import { formatQuantity } from '../units.ts';
import { coldestAt, curvesFor, type FreezeCurve, warmestAt } from './freeze-curves.ts';

export type FreezePoint = {
  /** What to count on: the warmer of the sources, °C. */
  readonly warmest: number;
  /** The coldest that a source gives, °C. */
  readonly coldest: number;
  readonly sources: readonly { readonly name: string; readonly celsius: number }[];
  /** The concentrations, in per cent, between which the sources hold. */
  readonly validPercent: readonly [number, number];
  readonly cautions: readonly string[];
  readonly answer: string;
};

/** The strongest mixture worked out here, in per cent. */
export const STRONGEST_PERCENT = 60;

/**
 * Where a mixture of glycol and water begins to freeze, °C, from its concentration in per cent.
 *
 * Two independent sources are asked and the warmer one is to be counted on; at 50 % they differ by over 2 K.
 * Sources: ASHRAE Fundamentals 2001 and Melinder, IIR 2010; see `tables/glycol.ts`.
 * Refused: a concentration outside 0 to 60 %, past which a mixture soon protects less again.
 */
export function freezePoint(question: {
  readonly glycol: Glycol;
  readonly percent: number;
  readonly by: Basis;
  readonly source?: string;
}): Result<FreezePoint> {
  const { glycol, by, percent } = question;
  const known = checkMixture(glycol, by);
  if (!known.ok) return known;
  const given = figureBetween(percent, {
    name: 'The concentration in %',
    low: 0,
    high: STRONGEST_PERCENT,
  });
  if (!given.ok) return given;
  const sources = curvesFor(glycol, by)
    .filter((curve) => covers(curve, percent))
    .map((curve) => ({ name: curve.name, celsius: curve.at(percent) }));
  const warmest = warmestAt(glycol, by, percent);
  const coldest = coldestAt(glycol, by, percent);
  const cautions = sources.length === 1 ? ['Only one source reaches this far.'] : [];
  return found({
    warmest,
    coldest,
    sources,
    validPercent: [0, STRONGEST_PERCENT],
    cautions,
    answer: sayAnswer({
      figure: `Counts as good down to ${formatQuantity(warmest, 'Cel', 3)}`,
      basis: `${formatQuantity(percent, '%')} ${glycol} glycol by ${by}; sources give ${sources
        .map(({ name, celsius }) => `${formatQuantity(celsius, 'Cel', 3)} ${name}`)
        .join(', ')}`,
      cautions,
      source: question.source,
    }),
  });
}

/** Refuses a glycol or a basis that is not in the tables. */
export function checkMixture(glycol: string, by: string): Result<true> {
  if (!Object.hasOwn(HANDBOOK, glycol)) {
    return refused(
      `"${glycol}" is not a glycol in the table.`,
      'Read the label: ethylene or propylene.',
    );
  }
  if (by !== 'volume' && by !== 'mass') {
    return refused(`A concentration by "${by}" is not known.`, 'Say by volume or by mass.');
  }
  return found(true);
}

function covers(curve: FreezeCurve, percent: number): boolean {
  return percent >= curve.from && percent <= curve.to;
}
