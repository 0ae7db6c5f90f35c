// Positions: "cyl 1, 3 and 5", "1-6", "no 1 no 2 and no 3", "front left", "both rears", "NSF and OSR", "axle 1 left".
import type { Token } from '../tidy/token.ts';
import type { Hit, PositionQuery, ScanWords } from './figure.ts';
import { unitAt } from './unit.ts';

const JOIN = new Set(['and', 'an', '&', '+', ',', '/', 'und']);
const RANGE = new Set(['-', 'to', 'through', 'thru', 'bis', '..']);
const HIGHEST = 60;

const whole = (token: Token | undefined): number | undefined =>
  token?.kind === 'number' &&
  Number.isInteger(token.value) &&
  (token.value ?? 0) >= 1 &&
  (token.value ?? 99) <= HIGHEST
    ? token.value
    : undefined;

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

/** Whether one of the plan's places has all of these sides; true where no place is known. */
const standTogether = (sides: readonly string[], words: ScanWords): boolean =>
  !words.sidesOfPlaces?.some((place) => sides.some((side) => place.includes(side))) ||
  words.sidesOfPlaces.some((place) => sides.every((side) => place.includes(side)));

/** "left, right to do": the second place opens something new. */
const sayingBehind = (tokens: readonly Token[], k: number) =>
  /^(to|not|next|tomorrow|after|later|still|follows|is|are|was|has|needs|will|morgen|nachher|später|noch|kommt|folgt|gleich|fehlt)$/.test(
    tokens[k + 1]?.word ?? '',
  );

type One = { queries: PositionQuery[]; next: number; named: boolean; noun?: string };

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

const singular = (word: string) =>
  word.length > 3 && word.endsWith('s') ? word.slice(0, -1) : word;

function behindNoun(tokens: readonly Token[], i: number, words: ScanWords): One | undefined {
  const token = tokens[i] as Token;
  const noun = singular(token.word);
  let at = i + 1;
  while (/^(no|number|numbers|nos|#|nr|\.|:)$/.test(tokens[at]?.word ?? '') && at - i < 3) at += 1;
  const next = tokens[at];
  if (next?.kind === 'number') {
    const made = numbers(tokens, at, words, noun, false);
    if (!made) return undefined;
    const last = made.queries.at(-1);
    if (made.queries.length === 1 && last && sideStands(tokens, made.next, words)) {
      const side = sideQuery(tokens, made.next, words);
      return {
        ...made,
        queries: [{ ...last, sides: side.queries[0]?.sides ?? [] }],
        next: side.next,
        named: true,
        noun,
      };
    }
    return { ...made, named: true, noun };
  }
  const heard =
    next?.kind === 'word' && noun !== 'no' && noun !== 'number'
      ? words.heardNumbers[next.word]
      : undefined;
  if (heard !== undefined && next && noun.length > 2 && heardEnds(tokens, at + 1)) {
    return { queries: [{ noun, number: heard, sides: [] }], next: at + 1, named: true, noun };
  }
  return undefined;
}

/** "cyl to done": a number was said where a number must stand; "cyl to be done" is not one. */
const heardEnds = (tokens: readonly Token[], k: number) => {
  const next = tokens[k];
  return (
    next === undefined ||
    next.kind === 'mark' ||
    (next.kind === 'word' &&
      !/^(be|go|do|the|a)$/.test(next.word) &&
      ((next.entry?.forms.includes('past') ?? false) ||
        next.entry?.plan === true ||
        /^(done|in|out|off|on|is)$/.test(next.word)))
  );
};

function numbers(
  tokens: readonly Token[],
  i: number,
  words: ScanWords,
  noun: string | undefined,
  inList: boolean,
): One | undefined {
  const first = whole(tokens[i]);
  if (first === undefined) return undefined;
  const query = (number: number): PositionQuery =>
    noun === undefined ? { number, sides: [] } : { noun, number, sides: [] };
  const sign = tokens[i + 1];
  if (unitAt(tokens, i + 1, words) || words.stageNouns.has(sign?.word ?? '')) return undefined;
  if (sign?.word === '/' || sign?.word === ':') {
    if (tokens[i + 2]?.kind === 'number' && noun === undefined) return undefined;
  }
  const end =
    sign && RANGE.has(sign.word)
      ? i +
        (tokens[i + 2]?.kind === 'word' && words.positionNouns.has(tokens[i + 2]?.word ?? '')
          ? 3
          : 2)
      : 0;
  const last = end > 0 ? whole(tokens[end]) : undefined;
  if (
    last !== undefined &&
    last > first &&
    last - first < HIGHEST &&
    !unitAt(tokens, end + 1, words)
  ) {
    const queries: PositionQuery[] = [];
    for (let n = first; n <= last; n += 1) queries.push(query(n));
    return { queries, next: end + 1, named: false };
  }
  const tight = sign?.glued && /^(st|nd|rd|th|x|am|pm)$/.test(sign.word);
  if (tight && !inList) return undefined;
  return { queries: [query(first)], next: i + 1, named: false };
}

const NOT_BEHIND_LEFT =
  /^(to|it|the|for|over|him|her|them|off|in|out|a|until|till|undone|loose|open|dry|alone|work|under|as|there|where|behind)$/;

/** Whether a word of a side stands for a place here, and not for "left to do" or "right then". */
function sideStands(tokens: readonly Token[], i: number, words: ScanWords): boolean {
  const token = tokens[i];
  const sides = token?.entry?.side;
  if (!token || !sides || token.kind !== 'word') return false;
  if (words.sidesOfPlan !== null && !sides.some((side) => words.sidesOfPlan?.has(side)))
    return false;
  const before = tokens[i - 1];
  const after = tokens[i + 1];
  if (token.word.length === 1) {
    return (
      before !== undefined &&
      before.kind !== 'number' &&
      words.sidesOfPlan !== null &&
      (after === undefined ||
        after.kind === 'mark' ||
        after.kind === 'number' ||
        after.kind === 'sign' ||
        (JOIN.has(before.word) && tokens[i - 2]?.entry?.side !== undefined))
    );
  }
  if (token.word === 'left') {
    const counted =
      before?.kind === 'number' &&
      !(
        words.sidesOfPlan?.has('left') &&
        !(Number.isInteger(before.value) && (before.value ?? 99) <= 12)
      );
    if (
      counted ||
      /^(one|none|lot|still|few|some|got|just|i|we|is|are|have|bit|nothing|only|much|been|ive)$/.test(
        before?.word ?? '',
      )
    ) {
      return after?.entry?.side !== undefined || /^(hand|side)$/.test(after?.word ?? '');
    }
    return (
      !NOT_BEHIND_LEFT.test(after?.word ?? '') ||
      before?.entry?.side !== undefined ||
      before?.word === 'the'
    );
  }
  if (token.word === 'right') {
    if (/^(is|are|was|were|looks|seems|all)$/.test(before?.word ?? '')) return false;
    if (before?.entry?.side || after?.entry?.side) return true;
    if (/^(hand|side|one|wheel|hub)$/.test(after?.word ?? '')) return true;
    if (/^(the|on|rear|front|and|&|or|axle)$/.test(before?.word ?? '') || before?.kind === 'number')
      return true;
    if (/^(then|so|lads|now|ok|,|guys|well|mate|\?)$/.test(after?.word ?? '')) return false;
    if (before === undefined)
      return (
        after === undefined ||
        after.entry?.plan === true ||
        /^(too|as|also|side|done|next|not|now|is|to)$/.test(after.word)
      );
    if (before.word === ',' && leftBefore(tokens, i)) return true;
    return (after === undefined || after.word !== '?') && before.word !== ',';
  }
  return true;
}

/** "Pads in left, right tomorrow": after the left side the right one is meant. */
function leftBefore(tokens: readonly Token[], i: number): boolean {
  const next = tokens[i + 1];
  if (next !== undefined && !sayingBehind(tokens, i)) return false;
  for (let k = i - 1; k >= 0 && i - k < 10; k -= 1)
    if (/^(left|nearside)$/.test(tokens[k]?.word ?? '')) return true;
  return false;
}

function sideQuery(tokens: readonly Token[], i: number, words: ScanWords): One {
  const sides: string[] = [];
  let at = i;
  let number: number | undefined;
  let noun: string | undefined;
  for (;;) {
    const token = tokens[at];
    const more = token?.entry?.side;
    const opens = sides.includes('left') && more?.includes('right') && sayingBehind(tokens, at);
    if (
      more &&
      !opens &&
      sideStands(tokens, at, words) &&
      !more.some((side) => sides.includes(side)) &&
      (sides.length === 0 || standTogether([...sides, ...more], words))
    ) {
      sides.push(...more);
      at += 1;
      continue;
    }
    if (token?.kind === 'word' && /^(hand|side|one|ones|end|corner)$/.test(token.word)) {
      at += 1;
      continue;
    }
    if (token?.word === '-' && token.glued && tokens[at + 1]?.entry?.side) {
      at += 1;
      continue;
    }
    const axle =
      token?.kind === 'word' &&
      words.positionNouns.has(token.word) &&
      token.word !== 'no' &&
      token.word !== 'c';
    if (axle && number === undefined) {
      if (whole(tokens[at + 1]) !== undefined && !unitAt(tokens, at + 2, words)) {
        number = whole(tokens[at + 1]);
        noun = token.word;
        at += 2;
        continue;
      }
      if (tokens[at + 1]?.entry?.side) {
        at += 1;
        continue;
      }
    }
    break;
  }
  const query: PositionQuery = {
    ...(noun === undefined ? {} : { noun }),
    ...(number === undefined ? {} : { number }),
    sides,
  };
  return { queries: [query], next: at, named: true };
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
