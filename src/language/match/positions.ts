// From what was said of a place to the positions of the plan, spelled as the plan spells them.
import type { Plan } from '../../job/plan.ts';
import type { LanguagePack } from '../pack.ts';
import type { PositionQuery } from '../scan/figure.ts';

type Place = {
  readonly name: string;
  readonly number?: number;
  readonly sides: ReadonlySet<string>;
  readonly words: readonly string[];
};

export type PositionSet = {
  readonly name: string;
  readonly places: readonly Place[];
  readonly nouns: ReadonlySet<string>;
  readonly numbered: boolean;
};

export type PositionIndex = {
  readonly sets: ReadonlyMap<string, PositionSet>;
  readonly order: ReadonlyMap<string, number>;
};

/** The positions of a plan with what tells them apart: a number, sides, words. */
export function makePositions(plan: Plan, packs: readonly LanguagePack[]): PositionIndex {
  const sides = new Map<string, readonly string[]>();
  for (const pack of packs)
    for (const [word, list] of Object.entries(pack.sides)) sides.set(word, sides.get(word) ?? list);
  const sets = new Map<string, PositionSet>();
  const order = new Map<string, number>();
  for (const [name, set] of Object.entries(plan.positions ?? {})) {
    const telling = new Set(tellingWords(set.names));
    const places = set.names.map((one) => placeOf(one, sides, telling));
    const nouns = new Set<string>();
    const extra = [
      ...(set.words ?? []),
      ...Object.values(set.also ?? {}).flatMap((also) => also.words ?? []),
    ];
    for (const word of extra) nouns.add(word.toLowerCase());
    for (const place of places) for (const word of place.words) nouns.add(word);
    for (const place of set.names) order.set(place, order.size);
    sets.set(name, {
      name,
      places,
      nouns,
      numbered: places.every((place) => place.number !== undefined),
    });
  }
  return { sets, order };
}

/** Words that some names of a set have and others do not: "drive" and "tag", but not "axle" where every name begins so. */
export function tellingWords(names: readonly string[]): readonly string[] {
  const wordsOf = names.map((name) => new Set(name.toLowerCase().match(/\p{L}{2,}/gu) ?? []));
  return [...new Set(wordsOf.flatMap((words) => [...words]))].filter((word) =>
    wordsOf.some((words) => !words.has(word)),
  );
}

function placeOf(
  name: string,
  sides: ReadonlyMap<string, readonly string[]>,
  telling: ReadonlySet<string>,
): Place {
  const found = new Set<string>();
  const words: string[] = [];
  let number: number | undefined;
  for (const word of name.toLowerCase().match(/\p{L}+|\d+/gu) ?? []) {
    const side = sides.get(word);
    if (/^\d/.test(word)) number = Number(word);
    else if (side) for (const one of side) found.add(one);
    else if (telling.has(word)) found.add(word);
    else words.push(word);
  }
  return { name, ...(number === undefined ? {} : { number }), sides: found, words };
}

const ANY_NOUN = new Set([
  'number',
  'no',
  'nr',
  'position',
  'pos',
  'corner',
  'c',
  '#',
  'pot',
  'wheel',
]);

/** Whether a query's word can mean this set. */
export function nounFits(noun: string | undefined, set: PositionSet): boolean {
  if (noun === undefined || set.nouns.has(noun) || set.nouns.has(`${noun}s`)) return true;
  if (ANY_NOUN.has(noun)) return true;
  return false;
}

export type Resolved = {
  readonly positions: readonly string[];
  /** What was said but fits no position of the set. */
  readonly unknown: readonly PositionQuery[];
};

/** The positions of a set that a list of queries names, in the order of the plan. */
export function resolvePositions(queries: readonly PositionQuery[], set: PositionSet): Resolved {
  const names = new Set<string>();
  const unknown: PositionQuery[] = [];
  for (const query of queries) {
    const found = nounFits(query.noun, set) ? set.places.filter((place) => fits(query, place)) : [];
    if (found.length === 0) unknown.push(query);
    for (const place of found) names.add(place.name);
  }
  return {
    positions: set.places.map((place) => place.name).filter((name) => names.has(name)),
    unknown,
  };
}

function fits(query: PositionQuery, place: Place): boolean {
  if (query.number === undefined && query.sides.length === 0) return false;
  if (query.number !== undefined && query.number !== place.number) return false;
  return query.sides.every((side) => place.sides.has(side));
}

/** Every position of a set. */
export const allPlaces = (set: PositionSet): readonly string[] =>
  set.places.map((place) => place.name);

/** The place across the vehicle: left for right, with everything else the same; of two places the other one. */
export function acrossFrom(name: string, set: PositionSet): string | undefined {
  const place = set.places.find((one) => one.name === name);
  if (!place) return undefined;
  if (set.places.length === 2) return set.places.find((one) => one !== place)?.name;
  const across = (sides: ReadonlySet<string>) =>
    [...sides]
      .map((side) => (side === 'left' ? 'right' : side === 'right' ? 'left' : side))
      .sort()
      .join();
  const wanted = across(place.sides);
  return set.places.find(
    (one) =>
      one.name !== name && one.number === place.number && [...one.sides].sort().join() === wanted,
  )?.name;
}
