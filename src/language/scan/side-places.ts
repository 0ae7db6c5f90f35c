// Places by their side: "front left", "NSF", "axle 1 left".
import type { Token } from '../tidy/token.ts';
import type { PositionQuery, ScanWords } from './figure.ts';
import { JOIN, type One, whole } from './one-place.ts';
import { unitAt } from './unit.ts';

/** "left, right to do": the second place opens something new. */
export const sayingBehind = (tokens: readonly Token[], k: number) =>
  /^(to|not|next|tomorrow|after|later|still|follows|is|are|was|has|needs|will|morgen|nachher|später|noch|kommt|folgt|gleich|fehlt)$/.test(
    tokens[k + 1]?.word ?? '',
  );

/** Whether one of the plan's places has all of these sides; true where no place is known. */
const standTogether = (sides: readonly string[], words: ScanWords): boolean =>
  !words.sidesOfPlaces?.some((place) => sides.some((side) => place.includes(side))) ||
  words.sidesOfPlaces.some((place) => sides.every((side) => place.includes(side)));

const NOT_BEHIND_LEFT =
  /^(to|it|the|for|over|him|her|them|off|in|out|a|until|till|undone|loose|open|dry|alone|work|under|as|there|where|behind)$/;

/** Whether a word of a side stands for a place here, and not for "left to do" or "right then". */
export function sideStands(tokens: readonly Token[], i: number, words: ScanWords): boolean {
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

/** The sides that stand together from a place on, with the number of their axle. */
export function sideQuery(tokens: readonly Token[], i: number, words: ScanWords): One {
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
