// From cut tokens to words that mean something: short forms opened, slips mended, spoken numbers made figures.
import type { LanguagePack } from '../pack.ts';
import { MEND_AT_MOST } from '../thresholds.ts';
import { slipOf } from './edits.ts';
import { type Token, tokenOf } from './token.ts';
import type { Vocabulary } from './vocabulary.ts';

/** Opens every word. One written word may become several tokens with the same place. */
export function openWords(cut: readonly Token[], vocabulary: Vocabulary): Token[] {
  const tokens = spokenMarks(cut, vocabulary.pack);
  const out: Token[] = [];
  let budget = MEND_AT_MOST;
  for (let i = 0; i < tokens.length; i += 1) {
    const token = tokens[i] as Token;
    const short =
      token.kind === 'code' &&
      vocabulary.pack.abbreviations[token.word.toLowerCase()] !== undefined;
    if (token.kind !== 'word' && !short) {
      out.push(token);
      continue;
    }
    const split = shortBefore(token, tokens[i + 1], vocabulary);
    if (split) {
      for (const [k, word] of split.entries()) {
        const part = vocabulary.look(word, false).parts[0];
        if (part)
          out.push({ ...token, word: part.word, glued: k === 0 && token.glued, entry: part.entry });
      }
      continue;
    }
    const looked = vocabulary.look(short ? token.word.toLowerCase() : token.word, budget > 0);
    if (looked.mended || looked.parts[0]?.entry.known === false) budget -= 1;
    for (let k = 0; k < looked.parts.length; k += 1) {
      const part = looked.parts[k];
      if (!part) continue;
      out.push({
        kind: 'word',
        word: part.word,
        from: token.from,
        to: token.to,
        glued: k === 0 && token.glued,
        value: undefined,
        doubtful: false,
        capital: token.capital,
        entry: part.entry,
        mended: looked.mended ? token.word : undefined,
      });
    }
  }
  denyBefore(out, vocabulary);
  return joinPrefixes(spokenNumbers(out, vocabulary), vocabulary);
}

/** Words one slip from "not" that are words themselves: before what was done they deny it. */
const MAY_BE_NOT = /^(no|hot|bot|jot|nor|nog|nod|note|knot|mot)$/;

/** "Rear let", "rar right": beside one side a slip of another, so that no other place is taken. */
function sideBeside(
  token: Token,
  before: Token | undefined,
  next: Token | undefined,
): string | undefined {
  if (token.entry?.side || token.entry?.plan || token.word.length < 2) return undefined;
  if (ALONG.test(before?.word ?? '') && !isKnownWord(token))
    return ACROSS_WORDS.find((side) => slipOf(token.word, side));
  if (ACROSS.test(next?.word ?? '') && !isKnownWord(token))
    return ALONG_WORDS.find((side) => slipOf(token.word, side));
  return undefined;
}

const ALONG = /^(front|rear)$/;
const ACROSS = /^(left|right)$/;
const ACROSS_WORDS = ['left', 'right'];
const ALONG_WORDS = ['front', 'rear'];

const isKnownWord = (token: Token): boolean =>
  token.entry?.known === true && token.mended === undefined && !/^(let|font)$/.test(token.word);

/** "Fuel's bot drained", "no clamped", "rear let": read as what they were meant for, the error on the safe side. */
function denyBefore(tokens: Token[], vocabulary: Vocabulary): void {
  if (vocabulary.pack.code !== 'en') return;
  for (let i = 0; i < tokens.length; i += 1) {
    const [token, next, before] = [tokens[i], tokens[i + 1], tokens[i - 1]];
    if (token?.kind !== 'word') continue;
    const past =
      (next?.entry?.forms.includes('past') === true && !next.entry.plan) ||
      /^(done|finished|finish)$/.test(next?.word ?? '');
    const last = next === undefined && token.word === 'no' && before?.kind === 'number' && i > 2;
    const as =
      (past && MAY_BE_NOT.test(token.word)) || last ? 'not' : sideBeside(token, before, next);
    const part = as === undefined ? undefined : vocabulary.look(as, false).parts[0];
    if (part) tokens[i] = { ...token, word: part.word, entry: part.entry, mended: token.word };
  }
}

/** "o/feed", "int hose": a short form before a word of the plan stands for the word the plan has before it. */
function shortBefore(
  token: Token,
  next: Token | undefined,
  vocabulary: Vocabulary,
): string[] | undefined {
  const word = token.word;
  if (token.kind !== 'word' || word.length < 2 || vocabulary.pack.abbreviations[word] !== undefined)
    return undefined;
  // One letter and a stroke before the word: the stroke is left out of it.
  if (token.to - token.from === word.length + 1 && word.length > 3 && !vocabulary.isKnown(word)) {
    const rest = word.slice(1);
    const first = vocabulary.before(word.slice(0, 1), rest);
    return first === undefined ? undefined : [first, rest];
  }
  if (word.length > 5 || next?.kind !== 'word' || vocabulary.isKnown(word)) return undefined;
  const first = vocabulary.before(word, next.word);
  return first === undefined || vocabulary.pack.common.includes(word) ? undefined : [first];
}

const SPOKEN_MARKS: Readonly<Record<string, string>> = {
  'full stop': '.',
  'new line': '\n',
  'question mark': '?',
  'exclamation mark': '!',
  'neue zeile': '\n',
};

/** Words that such a mark begins with. */
const MARK_WORDS: ReadonlySet<string> = new Set(
  'full comma question new neue komma punkt exclamation'.split(' '),
);

/** Dictation writes marks as words: "full stop", "comma". Only where nothing else can be meant. */
function spokenMarks(tokens: readonly Token[], pack: LanguagePack): readonly Token[] {
  if (!tokens.some((token) => token.kind === 'word' && MARK_WORDS.has(token.word))) return tokens;
  const isNumber = (token: Token | undefined) =>
    isFigure(token) ||
    (pack.wholeNumbers === true && pack.numbers[token?.word ?? ''] !== undefined);
  const out: Token[] = [];
  for (let i = 0; i < tokens.length; i += 1) {
    const token = tokens[i] as Token;
    const pair = SPOKEN_MARKS[`${token.word} ${tokens[i + 1]?.word ?? ''}`];
    const alone =
      token.word === 'comma' || token.word === 'komma'
        ? ','
        : token.word === 'punkt' && tokens.length > 3
          ? '.'
          : undefined;
    const mark = pair ?? alone;
    if (
      mark === undefined ||
      (alone && !pair && isNumber(tokens[i - 1]) && isNumber(tokens[i + 1]))
    )
      out.push(token);
    else {
      const last = pair ? (tokens[i + 1] as Token) : token;
      out.push(tokenOf('mark', mark, token.from, last.to, false));
      if (pair) i += 1;
    }
  }
  return out;
}

const isFigure = (token: Token | undefined) =>
  token?.kind === 'number' ||
  /^(nought|zero|one|two|three|four|five|six|seven|eight|nine|null|eins|zwei|drei|vier|fünf|sechs|sieben|acht|neun)$/.test(
    token?.word ?? '',
  );

/** "re-torque" and "un-done" are one word each. */
function joinPrefixes(tokens: Token[], vocabulary: Vocabulary): Token[] {
  for (let i = 0; i + 2 < tokens.length; i += 1) {
    const dash = tokens[i + 1];
    if (dash?.word !== '-') continue;
    const [a, b] = [tokens[i], tokens[i + 2]];
    if (!a || !dash || !b || dash.word !== '-' || !dash.glued || !b.glued || b.kind !== 'word')
      continue;
    if (a.kind !== 'word' || !/^[\p{L}]+$/u.test(a.word)) continue;
    const word = a.word + b.word;
    if (a.word.length > 3 && !vocabulary.isKnown(word)) continue;
    const looked = vocabulary.look(word, false);
    const part = looked.parts[0];
    if (!part || looked.parts.length > 1) continue;
    if (!part.entry.known && a.word !== 're') continue;
    if (!part.entry.known) {
      tokens.splice(i, 2);
      continue;
    }
    tokens.splice(i, 3, { ...a, word: part.word, to: b.to, entry: part.entry });
  }
  return tokens;
}

const isDigitWord = (token: Token | undefined, pack: LanguagePack) =>
  token?.kind === 'word' && pack.numbers[token.word] !== undefined;

/** "twenty eight", "six hundred", "one point one", "two and a half", "half a litre" become one number each. */
function spokenNumbers(tokens: readonly Token[], vocabulary: Vocabulary): Token[] {
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
