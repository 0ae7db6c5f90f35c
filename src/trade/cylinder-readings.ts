/**
 * One reading from each cylinder side by side: compression, leak-down, injector return flow, balance.
 *
 * Spread is highest less lowest, also as a share of the highest. A reading stands out by the modified z-score of
 * Iglewicz and Hoaglin (1993, as given in the NIST/SEMATECH e-Handbook, 1.3.5.17):
 *
 *   z = 0.6745 · (reading - median) / MAD,  MAD = median of the distances from the median;  |z| > 3.5 stands out.
 *
 * It is used because one bad cylinder out of six pulls a mean and a standard deviation towards itself and hides. MAD is
 * never taken as less than the step the gauge can show, so that equal readings and one a hair off raise nothing.
 */
import { found, type Result, refused } from './result.ts';
import { formatQuantity, type Unit } from './units.ts';

export type CylinderReading = { readonly cylinder: number; readonly value: number };

/** What the plan allows; each part optional, the ends allowed. */
export type CylinderLimits = {
  /** Whose limits they are, for the answer; the plan's when left out. */
  readonly of?: string;
  readonly low?: number;
  readonly high?: number;
  /** Largest spread, in the unit of the readings. */
  readonly spread?: number;
  /** Largest spread as a share of the highest reading, %. */
  readonly spreadPercent?: number;
};

export type CylinderSpread = {
  readonly lowest: CylinderReading;
  readonly highest: CylinderReading;
  readonly median: number;
  readonly spread: number;
  /** Share of the highest reading, %; null where the highest is not above 0, as in balance figures. */
  readonly spreadPercent: number | null;
  /** Readings that stand out from the rest, with their score. Empty with fewer than four: too few to tell. */
  readonly standOut: readonly (CylinderReading & { readonly score: number })[];
  readonly outOfLimits: readonly CylinderReading[];
  readonly spreadTooWide: boolean;
  readonly within: boolean;
  readonly answer: string;
};

const STANDS_OUT = 3.5;
const FEWEST = 4;

/**
 * Compares the cylinders with one another and with the plan's limits.
 *
 * @param given.what what was measured, for the answer: "compression".
 * @param given.step the smallest difference the gauge shows, in the unit of the readings.
 * Errors: fewer than two readings; a cylinder twice; a figure missing; a step not above 0.
 */
export function compareCylinders(given: {
  readonly what: string;
  readonly unit: Unit;
  readonly step: number;
  readonly readings: readonly CylinderReading[];
  readonly limits?: CylinderLimits;
}): Result<CylinderSpread> {
  const { what, step, readings, limits = {} } = given;
  const missing = readings.find(({ value }) => !Number.isFinite(value));
  if (missing) {
    return refused(`Cylinder ${missing.cylinder} has no figure.`, `Give its ${what} again.`);
  }
  const sorted = [...readings].sort((a, b) => a.value - b.value);
  const lowest = sorted[0];
  const highest = sorted.find(({ value }) => value === sorted.at(-1)?.value);
  if (!lowest || !highest || sorted.length < 2) {
    return refused(
      `There is ${sorted.length === 1 ? 'one reading' : 'no reading'} of ${what}.`,
      'Give one for each cylinder: they are judged against each other.',
    );
  }
  const twice = readings.find(
    (r, index) => readings.findIndex((o) => o.cylinder === r.cylinder) !== index,
  );
  if (twice) {
    return refused(`Cylinder ${twice.cylinder} has two readings.`, 'Say which one counts.');
  }
  if (!(step > 0)) {
    return refused(
      `The gauge step ${step} is not above 0.`,
      'Give the smallest difference the gauge shows.',
    );
  }
  const middle = median(sorted.map(({ value }) => value));
  const mad = Math.max(step, median(sorted.map(({ value }) => Math.abs(value - middle))));
  const standOut =
    readings.length < FEWEST
      ? []
      : readings
          .map((reading) => ({ ...reading, score: (0.6745 * (reading.value - middle)) / mad }))
          .filter(({ score }) => Math.abs(score) > STANDS_OUT);
  const spread = highest.value - lowest.value;
  const spreadPercent = highest.value > 0 ? (100 * spread) / highest.value : null;
  const { low = Number.NEGATIVE_INFINITY, high = Number.POSITIVE_INFINITY } = limits;
  const outOfLimits = readings.filter(({ value }) => value < low || value > high);
  // The dust of subtracting decimals must not turn "0.3 allowed" into a flag for 2.4 less 2.1.
  const over = (value: number, limit: number | undefined) =>
    limit !== undefined && value > limit + 1e-9 * Math.max(1, Math.abs(limit));
  const spreadTooWide =
    over(spread, limits.spread) || over(spreadPercent ?? 0, limits.spreadPercent);
  const result = {
    lowest,
    highest,
    median: middle,
    spread,
    spreadPercent,
    standOut,
    outOfLimits,
    spreadTooWide,
    within: outOfLimits.length === 0 && !spreadTooWide,
  };
  return found({ ...result, answer: sayCylinders(result, given) });
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = Math.floor(sorted.length / 2);
  const upper = sorted[half] ?? Number.NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] ?? Number.NaN) + upper) / 2;
}

function sayCylinders(
  result: Omit<CylinderSpread, 'answer'>,
  given: { readonly what: string; readonly unit: Unit; readonly limits?: CylinderLimits },
): string {
  const { unit, limits = {} } = given;
  const say = (value: number) => formatQuantity(value, unit);
  const { lowest, highest, spreadPercent } = result;
  const share =
    spreadPercent === null ? '' : ` (${formatQuantity(spreadPercent, '%', 3)} of the highest)`;
  const head = `Spread of ${given.what} ${say(result.spread)}${share}: cylinder ${lowest.cylinder} ${say(lowest.value)} to cylinder ${highest.cylinder} ${say(highest.value)}`;
  const bounds = [
    limits.low === undefined ? '' : `at least ${say(limits.low)}`,
    limits.high === undefined ? '' : `at most ${say(limits.high)}`,
    limits.spread === undefined ? '' : `spread at most ${say(limits.spread)}`,
    limits.spreadPercent === undefined
      ? ''
      : `spread at most ${formatQuantity(limits.spreadPercent, '%')}`,
  ].filter((bound) => bound !== '');
  const verdict =
    bounds.length === 0
      ? 'No limit is given'
      : `${result.within ? 'Within' : 'Outside'} ${limits.of ?? "the plan's limits"} (${bounds.join(', ')})`;
  const names = (list: readonly CylinderReading[]) =>
    list.map(({ cylinder }) => cylinder).join(', ');
  const out = result.outOfLimits.length > 0 ? `: cylinder ${names(result.outOfLimits)}` : '';
  const odd =
    result.standOut.length > 0
      ? ` Cylinder ${names(result.standOut)} stands out from the rest (modified z-score over 3.5): measure it again before taking anything apart.`
      : '';
  return `${head}. ${verdict}${out}.${odd}`;
}
