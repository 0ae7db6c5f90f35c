/**
 * What is believed of the pace of the rest of a job: the plan, drawn towards what past jobs on it took and what this
 * one took so far, as far as these can be relied on.
 *
 * Logarithms of pace are taken to lie about a line: rest = a + b · so far, further above it than below, since work that
 * stands still for a part runs over by more than good work gains. Where no past job is known, a = 0 (the plan is right)
 * and b = D / (D + 240), so that the pace of D minutes of planned work done counts half at four hours. Past jobs move a,
 * b and both spreads by least squares, with the plan standing for two jobs more (ridge regression; shrinkage as in Efron
 * and Morris, J. Am. Stat. Assoc. 70 (1975) 311, from memory). Tails are Student's, wide where few jobs are known. The
 * constants are ours, no source.
 */
import type { PastPace } from './pace.ts';

export type PaceBelief = {
  /** Of the logarithm of the pace of the rest: half of the jobs are slower. */
  readonly middle: number;
  /** Spread of the logarithm above and below the middle, of the whole rest. */
  readonly slower: number;
  readonly faster: number;
  /** Degrees of freedom: few where few past jobs are known. */
  readonly freedom: number;
  /** Past jobs it rests on. */
  readonly jobs: number;
};

/** Planned minutes done at which the pace so far counts half where no past job tells. */
const HALF = 240;
/** The plan counts as so many past jobs. */
const PLAN_JOBS = 2;
/** Spreads of the logarithm of pace between jobs where nothing is known: half as slow again, or a quarter faster. */
const USUAL_SLOWER = 0.4;
const USUAL_FASTER = 0.25;
/** What each of these spreads counts for, in past jobs on its side. */
const SPREAD_JOBS = 2;

export type SoFar = { readonly share: number; readonly log: number; readonly minutes: number };

export function paceBelief(soFar: SoFar | null, past: readonly PastPace[]): PaceBelief {
  const pairs = pairsNear(soFar, past);
  const count = pairs.length;
  const meanX = pairs.reduce((sum, { x }) => sum + x, 0) / (count + PLAN_JOBS);
  const meanY = pairs.reduce((sum, { y }) => sum + y, 0) / (count + PLAN_JOBS);
  const slope = soFar === null ? 0 : slopeOf(pairs, meanX, meanY, soFar.minutes);
  const misses = pairs.map(({ x, y }) => y - meanY - slope * (x - meanX));
  const more = 1 + 1 / (count + PLAN_JOBS);
  const spread = (usual: number, side: readonly number[]): number =>
    Math.sqrt(
      (more * (SPREAD_JOBS * usual ** 2 + side.reduce((sum, miss) => sum + miss ** 2, 0))) /
        (SPREAD_JOBS + count / 2),
    );
  return {
    middle: meanY + slope * ((soFar?.log ?? 0) - meanX),
    slower: spread(
      USUAL_SLOWER,
      misses.filter((miss) => miss > 0),
    ),
    faster: spread(
      USUAL_FASTER,
      misses.filter((miss) => miss < 0),
    ),
    freedom: 2 * SPREAD_JOBS + count,
    jobs: count,
  };
}

type Pair = { readonly x: number; readonly y: number };

/** Each past job at the cut nearest to where this job is; before anything is done only whole jobs compare. */
const pairsNear = (soFar: SoFar | null, past: readonly PastPace[]): readonly Pair[] =>
  past.flatMap(({ cuts }) => {
    const near = cuts
      .filter((cut) => (soFar === null ? cut.share === 0 : cut.soFar !== null))
      .sort(
        (a, b) => Math.abs(a.share - (soFar?.share ?? 0)) - Math.abs(b.share - (soFar?.share ?? 0)),
      )[0];
    return near ? [{ x: near.soFar ?? 0, y: near.rest }] : [];
  });

const slopeOf = (pairs: readonly Pair[], meanX: number, meanY: number, minutes: number): number => {
  const planned = minutes / (minutes + HALF);
  const weight = PLAN_JOBS * USUAL_SLOWER * USUAL_FASTER;
  const across = pairs.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0);
  const along = pairs.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  return (across + weight * planned) / (along + weight);
};
