// Positions: "cyl 1, 3 and 5", "1-6", "no 1 no 2 and no 3", "front left", "both rears", "NSF and OSR", "axle 1 left".
import type { Token } from '../tidy/token.ts';
import type { Hit, PositionQuery, ScanWords } from './figure.ts';
import { behindNoun, numbers, singular } from './numbered-places.ts';
import { HIGHEST, JOIN, type One, whole } from './one-place.ts';
import { sayingBehind, sideQuery, sideStands } from './side-places.ts';
import { unitAt } from './unit.ts';

/** Reads positions from a place on. */
export function positions(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  const start = tokens[i];
  if (!start) return undefined;
  if (
    start.word === 'first' &&
    whole(tokens[i + 1]) !== undefined &&
    (whole(tokens[i + 1]) ?? 0) <= (words.highestPlace ?? HIGHEST) &&
    !unitAt(tokens, i + 2, words)
  ) {
    const last = whole(tokens[i + 1]) ?? 1;
    const some = Array.from(
      { length: last },
      (_, k): PositionQuery => ({ number: k + 1, sides: [] }),
    );
    return { body: { kind: 'positions', queries: some, bare: false }, next: i + 2 };
  }
  const queries: PositionQuery[] = [];
  let at = i;
  let named = false;
  let noun: string | undefined;
  for (;;) {
    const one = oneQuery(tokens, at, words, noun, queries.length > 0);
    if (!one) break;
    queries.push(...one.queries);
    named ||= one.named;
    if (one.noun) noun = one.noun;
    at = one.next;
    const next = joined(tokens, at, words, queries);
    if (next === undefined) break;
    at = next;
  }
  if (queries.length === 0) return undefined;
  at = stepBack(tokens, i, at);
  const bare = !named && queries.every((query) => query.sides.length === 0);
  const only = queries.length === 1 ? queries[0]?.number : undefined;
  if (bare && only !== undefined && only > (words.highestPlace ?? HIGHEST)) return undefined;
  return { body: { kind: 'positions', queries: shareEnds(queries), bare }, next: at };
}

/** A list never ends in its own comma or "and". */
function stepBack(tokens: readonly Token[], i: number, at: number): number {
  let end = at;
  while (end > i && JOIN.has(tokens[end - 1]?.word ?? '')) end -= 1;
  return end;
}

function joined(
  tokens: readonly Token[],
  at: number,
  words: ScanWords,
  so: readonly PositionQuery[],
): number | undefined {
  let k = at;
  while (JOIN.has(tokens[k]?.word ?? '') && k - at < 2) k += 1;
  const next = tokens[k];
  if (!next) return undefined;
  if (
    k === at &&
    next.kind === 'word' &&
    words.positionNouns.has(next.word) &&
    so.at(-1)?.noun === undefined
  )
    return undefined;
  if (tokens[at]?.word === ',' && k - at === 1 && sayingBehind(tokens, k)) return undefined;
  if (/^(on|the)$/.test(next.word) && k > at && tokens[k + 1]?.entry?.side) k += 1;
  const value = whole(tokens[k]);
  if (value !== undefined) {
    const behind = tokens[k + 1];
    if (
      unitAt(tokens, k + 1, words) ||
      behind?.word === ':' ||
      behind?.word === '/' ||
      ((behind?.word === 'of' || behind?.word === 'out') &&
        tokens[k + 2]?.word !== undefined &&
        /^(of|\d+)$/.test(tokens[k + 2]?.word ?? ''))
    )
      return undefined;
    if (
      /^(left|to)$/.test(behind?.word ?? '') &&
      /^(go|do|come)?$/.test(tokens[k + 2]?.word ?? '') &&
      k > at
    )
      return undefined;
    if (so.at(-1)?.number === undefined) return undefined;
    // Numbers side by side without a comma are a list only where a number stood before.
    if (k === at && so.at(-1)?.number === undefined) return undefined;
    if (k === at && value <= (so.at(-1)?.number ?? 0)) return undefined;
    return k;
  }
  // "Fl fr 600 rl rr": corners side by side are a list, single sides are not.
  const last = so.at(-1)?.sides ?? [];
  const corners = last.length === 2 && next.entry?.side?.length === 2;
  if (k === at && next.entry?.side && !corners && !(last.length > 1 && isWhole(last, words)))
    return undefined;
  return oneQuery(tokens, k, words, undefined, true) ? k : undefined;
}

/** Whether these sides are all that one of the plan's places has. */
const isWhole = (sides: readonly string[], words: ScanWords): boolean =>
  words.sidesOfPlaces?.some(
    (place) => place.length === sides.length && sides.every((side) => place.includes(side)),
  ) ?? false;

function oneQuery(
  tokens: readonly Token[],
  i: number,
  words: ScanWords,
  nounBefore: string | undefined,
  inList: boolean,
): One | undefined {
  const token = tokens[i];
  if (!token) return undefined;
  if (
    token.kind === 'word' &&
    (words.positionNouns.has(token.word) || words.positionNouns.has(singular(token.word)))
  ) {
    return behindNoun(tokens, i, words);
  }
  if (token.word === '#' && whole(tokens[i + 1]) !== undefined) return behindNoun(tokens, i, words);
  if (sideStands(tokens, i, words)) return sideQuery(tokens, i, words);
  if (token.kind === 'number') return numbers(tokens, i, words, nounBefore, inList);
  return undefined;
}

const ACROSS = ['left', 'right'];

/** "front left and right": the second takes the end of the first, or the plan's own word; "axle 1 left and right" its number. */
function shareEnds(queries: readonly PositionQuery[]): readonly PositionQuery[] {
  if (queries.length < 2) return queries;
  const isAcross = (side: string) => ACROSS.includes(side);
  const across = (query: PositionQuery) => query.sides.some(isAcross);
  return queries.map((query, index) => {
    const before = queries[index - 1];
    const after = queries[index + 1];
    if (!across(query) || !query.sides.every(isAcross)) return query;
    const giver = before && across(before) ? before : after && across(after) ? after : undefined;
    if (!giver) return query;
    const ends = giver.sides.filter((side) => !isAcross(side));
    const number = query.number ?? giver.number;
    return {
      ...query,
      ...(number === undefined ? {} : { number }),
      sides: [...ends, ...query.sides],
    };
  });
}
