// The places of a plan that a text names, whatever else it says: "hub bearing right front", "injectors cyl 1-3 and 5".
import type { Lexicon } from './lexicon.ts';
import { resolvePositions } from './match/positions.ts';
import { prepare } from './message.ts';

/** Positions named by a word or a side, in the order of the plan; numbers alone name none. Never throws. */
export function placesNamed(text: string, lexicon: Lexicon): readonly string[] {
  const sets = [...lexicon.positions.sets.values()];
  const found = new Set<string>();
  for (const figure of prepare(text, lexicon, {}).figures) {
    const queries =
      figure.kind === 'positions' && !figure.bare
        ? figure.queries
        : figure.kind === 'all' && figure.sides
          ? [{ sides: figure.sides }]
          : [];
    for (const set of sets)
      for (const name of resolvePositions(queries, set).positions) found.add(name);
  }
  return [...lexicon.positions.order.keys()].filter((name) => found.has(name));
}
