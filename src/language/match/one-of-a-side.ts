// "Left wheel off" where two wheels are on the left: one of them is meant, and which one is not said.
import type { Figure } from '../scan/figure.ts';
import type { Token } from '../tidy/token.ts';
import type { PlacesSaid } from './places-said.ts';

const SEVERAL =
  /^(both|all|pair|ends|sides|are|were|fronts|rears|backs|lefts|rights|beide|beiden|alle|sind)$/;

/** A plural of the plan, or a word for several, stands among the tokens. */
const saysSeveral = (figures: readonly Figure[], tokens: readonly Token[]): boolean =>
  figures.some((figure) => figure.kind === 'all' || figure.kind === 'count') ||
  tokens.some(
    ({ word, entry }) =>
      SEVERAL.test(word) ||
      (entry?.plan === true && entry.side === undefined && word !== entry.root),
  );

/**
 * One side or end named where the plan has several positions on it: the one that is on this job, all of them only
 * where the words say several, else no position, so that it is asked.
 */
export function oneOfASide(
  places: PlacesSaid,
  figures: readonly Figure[],
  tokens: readonly Token[],
): PlacesSaid {
  const side = figures.some(
    (figure) =>
      figure.kind === 'positions' &&
      figure.queries.length === 1 &&
      figure.queries[0]?.sides.length === 1 &&
      figure.queries[0].number === undefined,
  );
  if (!side || places.positions.length < 2) return places;
  const onJob = places.positions.filter((name) => places.allowed.includes(name));
  if (onJob.length === 1) return { ...places, positions: onJob, unknown: false };
  if (saysSeveral(figures, tokens)) return places;
  return { ...places, positions: [], missing: true, allowed: places.positions };
}
