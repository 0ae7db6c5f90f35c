// Numbers said in words: "twenty eight", "one point one", "two and a half".
import type { LanguagePack } from '../pack.ts';
import { type Token, tokenOf } from './token.ts';
import type { Vocabulary } from './vocabulary.ts';

const isDigitWord = (token: Token | undefined, pack: LanguagePack) =>
  token?.kind === 'word' && pack.numbers[token.word] !== undefined;

/** "twenty eight", "six hundred", "one point one", "two and a half", "half a litre" become one number each. */
export function spokenNumbers(tokens: readonly Token[], vocabulary: Vocabulary): Token[] {
  const pack = vocabulary.pack;
  const out: Token[] = [];
  for (let i = 0; i < tokens.length; i += 1) {
    const token = tokens[i] as Token;
    const spoken = mayBegin(token, pack)
      ? readSpoken(tokens, i, pack, vocabulary.figures)
      : undefined;
    if (spoken) {
      const last = tokens[spoken.next - 1] as Token;
      const word = token.kind === 'number' ? token.word : String(spoken.value);
      const number = tokenOf('number', word, token.from, last.to, token.glued, spoken.value);
      out.push(
        spoken.value === 1 && token.word === 'one' ? { ...number, entry: token.entry } : number,
      );
      i = spoken.next - 1;
    } else out.push(token);
  }
  return out;
}

/** Whether a spoken number may begin with this token. */
const mayBegin = (token: Token, pack: LanguagePack): boolean =>
  token.kind === 'word'
    ? token.word === 'half' || token.word === 'point' || pack.numbers[token.word] !== undefined
    : token.kind === 'number' || token.word === '.' || token.word === ',';

function readSpoken(
  tokens: readonly Token[],
  i: number,
  pack: LanguagePack,
  figures: ReadonlySet<number>,
): { value: number; next: number } | undefined {
  const first = tokens[i] as Token;
  if (first.kind === 'number' && first.value !== undefined)
    return halfBehind(tokens, i + 1, first.value);
  const at = (k: number) => tokens[k]?.word ?? '';
  if (
    at(i) === 'half' &&
    (at(i + 1) === 'a' || at(i + 1) === 'an') &&
    pack.units[at(i + 2)] !== undefined &&
    at(i + 3) !== 'ago'
  ) {
    return pack.units[at(i + 2)] === 'h' ? undefined : { value: 0.5, next: i + 2 };
  }
  if (
    (first.word === '.' || first.word === ',') &&
    !first.glued &&
    tokens[i + 1]?.kind === 'number' &&
    tokens[i + 1]?.glued
  ) {
    const digits = tokens[i + 1]?.word ?? '';
    return /^\d+$/.test(digits) ? { value: Number(`0.${digits}`), next: i + 2 } : undefined;
  }
  if (first.word === 'point' && tokens[i - 1]?.kind !== 'number') {
    const tail = pointDigits(tokens, i + 1, pack);
    return tail ? { value: Number(`0.${tail.digits}`), next: tail.next } : undefined;
  }
  if (!isDigitWord(first, pack)) return undefined;
  if (at(i) === 'one' && !oneCounts(tokens, i, pack)) return undefined;
  let value = pack.numbers[at(i)] ?? 0;
  let next = i + 1;
  const tens = pack.numbers[at(next)];
  if (
    value >= 1 &&
    value <= 9 &&
    pack.wholeNumbers !== true &&
    tens !== undefined &&
    tens >= 10 &&
    tens < 100 &&
    (unitFollows(tokens, next, pack) || figures.has(value * 100 + tens))
  ) {
    value *= 100;
  }
  for (;;) {
    const word = at(next);
    const more = pack.numbers[word];
    if (more === 100 || more === 1000) {
      value = (value === 0 ? 1 : value) * more;
      next += 1;
    } else if (
      word === '-' &&
      tokens[next]?.glued &&
      fitsBehind(value, pack.numbers[at(next + 1)] ?? 0) &&
      pack.numbers[at(next + 1)] !== undefined
    ) {
      next += 1;
    } else if (more !== undefined && pack.wholeNumbers !== true && fitsBehind(value, more)) {
      value += more;
      next += 1;
    } else if (
      word === 'and' &&
      value >= 100 &&
      value % 100 === 0 &&
      isDigitWord(tokens[next + 1], pack)
    ) {
      value += pack.numbers[at(next + 1)] ?? 0;
      next += 2;
    } else break;
  }
  if (at(next) === 'point' || at(next) === 'comma') {
    const tail = pointDigits(tokens, next + 1, pack);
    if (tail && (at(next) === 'point' || pack.units[at(tail.next)] !== undefined)) {
      return { value: Number(`${value}.${tail.digits}`), next: tail.next };
    }
  }
  return halfBehind(tokens, next, value) ?? { value, next };
}

/** The digits behind "point": "one five", "oh six", "thirty". */
function pointDigits(
  tokens: readonly Token[],
  from: number,
  pack: LanguagePack,
): { digits: string; next: number } | undefined {
  let digits = '';
  let k = from;
  for (; ; k += 1) {
    const token = tokens[k];
    const word = token?.word ?? '';
    if (word === 'oh' || word === 'o') digits += '0';
    else if (token?.kind === 'number' && Number.isInteger(token.value)) digits += word;
    else if (pack.numbers[word] !== undefined && (pack.numbers[word] ?? 100) < 100)
      digits += String(pack.numbers[word]);
    else break;
  }
  return digits === '' ? undefined : { digits, next: k };
}

/** "one eighty newton metres" is 180. */
const unitFollows = (tokens: readonly Token[], next: number, pack: LanguagePack) => {
  const word = (k: number) => tokens[k]?.word ?? '';
  return [next + 1, next + 2].some(
    (k) =>
      word(k).length > 1 &&
      (pack.units[word(k)] !== undefined || word(k) === 'newton' || word(k) === 'foot'),
  );
};

const fitsBehind = (value: number, more: number) =>
  (value >= 20 && value < 100 && value % 10 === 0 && more > 0 && more < 10) ||
  (value >= 100 && value % 100 === 0 && more > 0 && more < 100);

function halfBehind(
  tokens: readonly Token[],
  next: number,
  value: number,
): { value: number; next: number } | undefined {
  if (tokens[next]?.word !== 'and') return undefined;
  const at = (k: number) => tokens[k]?.word;
  if (at(next + 1) === 'a' && at(next + 2) === 'half')
    return { value: value + 0.5, next: next + 3 };
  if (at(next + 1) === 'half') return { value: value + 0.5, next: next + 2 };
  if (at(next + 1) === 'a' && at(next + 2) === 'quarter')
    return { value: value + 0.25, next: next + 3 };
  if (at(next + 1) === 'three' && at(next + 2) === 'quarters')
    return { value: value + 0.75, next: next + 3 };
  return undefined;
}

/** "one" counts only where a number must stand; else it is a pronoun: "the right one". */
function oneCounts(tokens: readonly Token[], i: number, pack: LanguagePack): boolean {
  const before = tokens[i - 1];
  const after = tokens[i + 1];
  const noun =
    before?.kind === 'word' &&
    (pack.positionNouns.includes(before.word) ||
      pack.stageNouns.includes(before.word) ||
      /^(numbers|cylinders|stages)$/.test(before.word));
  if (noun) return true;
  if (after === undefined) return false;
  if (pack.units[after.word] !== undefined && after.word.length > 1) return true;
  if (/^(point|hundred|thousand|and)$/.test(after.word)) {
    return (
      after.word !== 'and' ||
      isDigitWord(tokens[i + 2], pack) ||
      tokens[i + 2]?.word === 'a' ||
      tokens[i + 2]?.word === 'half'
    );
  }
  return (
    /^(to|through|of|out)$/.test(after.word) &&
    (isDigitWord(tokens[i + 2], pack) ||
      tokens[i + 2]?.word === 'of' ||
      tokens[i + 2]?.kind === 'number')
  );
}
