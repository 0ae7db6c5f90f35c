// Numbered places: "cyl 1", "1-6", "no 3", "axle 2 left" up to its number.
import type { Token } from '../tidy/token.ts';
import type { PositionQuery, ScanWords } from './figure.ts';
import { HIGHEST, type One, whole } from './one-place.ts';
import { sideQuery, sideStands } from './side-places.ts';
import { unitAt } from './unit.ts';

const RANGE = new Set(['-', 'to', 'through', 'thru', 'bis', '..']);

export const singular = (word: string) =>
  word.length > 3 && word.endsWith('s') ? word.slice(0, -1) : word;

/** The numbers behind a word for places. */
export function behindNoun(tokens: readonly Token[], i: number, words: ScanWords): One | undefined {
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

/** A number or a range of them. */
export function numbers(
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
