// Where the acts of a clause are: named, shared, across, all of them, or all but some.
import { type Clause, hasCue } from '../clause.ts';
import type { ReadContext } from '../context.ts';
import type { Lexicon } from '../lexicon.ts';
import { oneOfASide } from '../match/one-of-a-side.ts';
import type { StepPhrases } from '../match/phrases.ts';
import { allowedPlaces, type PlacesSaid, placesSaid, setOfStep } from '../match/places-said.ts';
import { acrossFrom } from '../match/positions.ts';
import type { Message } from '../message.ts';
import type { Figure } from '../scan/figure.ts';
import type { ChosenStep } from './choose-step.ts';
import type { ReadSoFar } from './so-far.ts';
import type { Work } from './work.ts';

/** The place across from the one spoken of before, where one side alone is named of several places. */
function acrossOf(
  places: PlacesSaid,
  step: StepPhrases,
  figures: readonly Figure[],
  { clause, lexicon, soFar }: Work,
  fromContext: boolean,
): PlacesSaid {
  const set = setOfStep(step, lexicon);
  if (!set || !soFar.focus) return places;
  const across = soFar.focus.positions.flatMap((name) => acrossFrom(name, set) ?? []);
  const oneSide = figures.some(
    (figure) =>
      figure.kind === 'positions' &&
      figure.queries.length === 1 &&
      figure.queries[0]?.sides.length === 1,
  );
  if (fromContext && places.positions.length > 1 && oneSide) {
    const named = across.filter((name) => places.positions.includes(name));
    return named.length > 0 ? { ...places, positions: named } : places;
  }
  if (!places.missing || !hasCue(clause, 'other-side') || across.length === 0) return places;
  return {
    ...places,
    positions: across,
    missing: false,
    assumed: [`position: ${across.join(', ')}, the other side`],
  };
}

/** Places taken from a neighbour in the sentence, or from what was spoken of before. */
function carriedPlaces(
  places: PlacesSaid,
  step: StepPhrases,
  work: Work,
  fromContext: boolean,
): PlacesSaid {
  const { clause, lexicon, context, soFar } = work;
  if (!places.missing) return places;
  if (clause.shared.length > 0) {
    const near = placesSaid(step, clause.shared, lexicon, context.positions);
    if (near.positions.length > 0)
      return {
        ...near,
        assumed: [`position: ${near.positions.join(', ')}, said beside it`],
        unused: places.unused,
      };
  }
  const too = clause.pieces.some((piece) =>
    piece.tokens
      .slice(piece.from, piece.to)
      .some((token) => /^(too|also|auch|ebenfalls)$/.test(token.word)),
  );
  const before = soFar.focus?.positions ?? [];
  if (
    (!fromContext && !too) ||
    before.length === 0 ||
    !before.every((name) => places.allowed.includes(name))
  )
    return places;
  return {
    ...places,
    positions: before,
    missing: false,
    assumed: [`position: ${before.join(', ')}, spoken of before`],
  };
}

export type PlacesOfAct = {
  readonly places: PlacesSaid;
  readonly several: { readonly count: number; readonly all: boolean } | undefined;
  readonly excepted: readonly string[];
};

/** Where the acts of a clause are: named, shared, across, all of them, or all but some. */
export function placesOf(work: Work, choice: ChosenStep, figures: readonly Figure[]): PlacesOfAct {
  const { stance, clause, message, lexicon, context, soFar } = work;
  const step = choice.step;
  const several =
    stance.kind === 'done' ? countOfSeveral(figures, message, step, lexicon, context) : undefined;
  const named = namedBefore(step.id, soFar);
  let places = placesSaid(step, figures, lexicon, context.positions, named);
  places = acrossOf(places, step, figures, work, choice.fromContext);
  if (several)
    places = {
      ...places,
      positions: several.all ? places.allowed : [],
      missing: false,
      unknown: false,
    };
  const noneOf = clause.pieces.some((piece) =>
    piece.cues.some((cue) => cue.name === 'none' && piece.tokens[cue.to - 1]?.word === 'of'),
  );
  if (places.missing && clause.shared.length === 0 && stance.kind === 'not-done' && noneOf)
    places = { ...places, positions: places.allowed, missing: false };
  const excepted = exceptedPlaces(clause, step, lexicon, context);
  if (excepted.length > 0) {
    const near = carriedPlaces(places, step, work, false);
    const from = near.positions.length > 0 ? near.positions : near.allowed;
    places = {
      ...near,
      positions: from.filter((name) => !excepted.includes(name)),
      missing: false,
    };
  }
  places = carriedPlaces(places, step, work, choice.fromContext);
  const tokens = clause.pieces.flatMap((piece) => piece.tokens.slice(piece.from, piece.to));
  return { places: oneOfASide(places, figures, tokens), several, excepted };
}

/** "4 injectors out" counts them and does not say which; with the number of all of them it is all. */
function countOfSeveral(
  figures: readonly Figure[],
  message: Message,
  step: StepPhrases,
  lexicon: Lexicon,
  context: ReadContext,
): { count: number; all: boolean } | undefined {
  const set = setOfStep(step, lexicon);
  if (!set?.numbered) return undefined;
  for (const figure of figures) {
    if (
      figure.kind !== 'positions' ||
      !figure.bare ||
      figure.queries.length !== 1 ||
      figure.to - figure.from !== 1
    )
      continue;
    const next = message.tokens[figure.to];
    const count = figure.queries[0]?.number;
    if (
      count === undefined ||
      count < 2 ||
      next?.kind !== 'word' ||
      next.entry?.plan !== true ||
      next.word === next.entry.root
    )
      continue;
    const allowed = allowedPlaces(set, context.positions).length;
    if (figures.some((one) => one !== figure && (one.kind === 'positions' || one.kind === 'all')))
      continue;
    if (count <= allowed) return { count, all: count === allowed };
  }
  return undefined;
}

/** Positions of this step that the message, or the report before it, has named already. */
function namedBefore(step: string, soFar: ReadSoFar): readonly string[] {
  const own = soFar.acts.filter((act) => act.step === step).flatMap((act) => act.positions);
  return own.length > 0 ? own : soFar.focus?.step.id === step ? soFar.focus.positions : [];
}

function exceptedPlaces(
  clause: Clause,
  step: StepPhrases,
  lexicon: Lexicon,
  context: ReadContext,
): readonly string[] {
  const figures = clause.pieces.flatMap((piece) => piece.excepted);
  return figures.length === 0
    ? []
    : placesSaid(step, figures, lexicon, context.positions).positions;
}
