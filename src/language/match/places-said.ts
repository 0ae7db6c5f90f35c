// Which positions an act is about: those named, all of them, the job's only one, or none said.
import type { Lexicon } from '../lexicon.ts';
import type { Figure } from '../scan/figure.ts';
import type { StepPhrases } from './phrases.ts';
import { allPlaces, type PositionSet, resolvePositions } from './positions.ts';

export type PlacesSaid = {
  readonly positions: readonly string[];
  /** The step runs over several positions and none was said. */
  readonly missing: boolean;
  readonly assumed: readonly string[];
  /** Bare numbers that were not taken as positions. */
  readonly unused: readonly Figure[];
  /** A position was named that the plan does not have. */
  readonly unknown: boolean;
  readonly allowed: readonly string[];
};

const NONE = {
  positions: [],
  missing: false,
  assumed: [],
  unused: [],
  unknown: false,
  allowed: [],
} as const;

/** Positions of the job that belong to the step's set. */
export function allowedPlaces(
  set: PositionSet,
  onJob: readonly string[] | undefined,
): readonly string[] {
  const all = allPlaces(set);
  if (!onJob || onJob.length === 0) return all;
  const some = all.filter((name) => onJob.includes(name));
  return some.length > 0 ? some : all;
}

export const setOfStep = (step: StepPhrases, lexicon: Lexicon): PositionSet | undefined =>
  step.step?.each === undefined ? undefined : lexicon.positions.sets.get(step.step.each);

/** "All twenty nuts" of two wheels with ten each. */
const isAllOfAll = (step: StepPhrases, count: number, places: number): boolean =>
  places > 1 &&
  (step.step?.report ?? []).some((ask) => {
    const each =
      ask.kind === 'tightening'
        ? ask.fasteners
        : ask.kind === 'off' || ask.kind === 'on'
          ? ask.count
          : undefined;
    return each !== undefined && each * places === count;
  });

/** Reads the positions of an act from the figures of its clause. */
export function placesSaid(
  step: StepPhrases,
  figures: readonly Figure[],
  lexicon: Lexicon,
  onJob: readonly string[] | undefined,
  named: readonly string[] = [],
): PlacesSaid {
  const set = setOfStep(step, lexicon);
  if (!set) {
    const unused = figures.filter((figure) => figure.kind === 'positions' && figure.bare);
    return { ...NONE, unused };
  }
  const allowed = allowedPlaces(set, onJob);
  const found = new Set<string>();
  const unused: Figure[] = [];
  let unknown = false;
  let said = false;
  for (const figure of figures) {
    if (figure.kind === 'all') {
      if (
        figure.count !== undefined &&
        figure.sides === undefined &&
        figure.count !== allowed.length &&
        (figure.count > allowed.length || figure.count === 2) &&
        !isAllOfAll(step, figure.count, allowed.length)
      )
        continue;
      said = true;
      const fits = figure.sides
        ? resolvePositions([{ sides: figure.sides }], set).positions
        : allowed;
      for (const name of fits) found.add(name);
    } else if (figure.kind === 'rest') {
      if (named.length === 0) continue;
      said = true;
      for (const name of allowed) if (!named.includes(name)) found.add(name);
    } else if (figure.kind === 'left' && figure.toDo && named.length > 0) {
      const place = set.places.find((one) => one.number === figure.left);
      if (!place || named.includes(place.name) || !allowed.includes(place.name)) continue;
      said = true;
      found.add(place.name);
    } else if (figure.kind === 'positions') {
      const { positions, unknown: strange } = resolvePositions(figure.queries, set);
      if (positions.length === 0 && figure.bare) {
        unused.push(figure);
        continue;
      }
      said = true;
      for (const name of positions) found.add(name);
      if (strange.length > 0 || positions.some((name) => !allowed.includes(name))) unknown = true;
    }
  }
  const positions = allPlaces(set).filter((name) => found.has(name));
  if (positions.length > 0 || said) {
    return { positions, missing: positions.length === 0, assumed: [], unused, unknown, allowed };
  }
  if (allowed.length === 1) {
    return {
      positions: allowed,
      missing: false,
      assumed: [`position: ${allowed[0]}, the only one on this job`],
      unused,
      unknown,
      allowed,
    };
  }
  return { positions: [], missing: true, assumed: [], unused, unknown, allowed };
}
