// Cuts tidied text into tokens: words, numbers, codes, marks and signs. Splits figures from their units.
import { LONGEST_WORD } from '../thresholds.ts';
import { keepAnswers } from './kept-answers.ts';
import { type Token, tokenOf } from './token.ts';

/** What cutting must know of words: whether letters are a unit, a word, or stand before a number. */
export type CutWords = {
  readonly unit: (letters: string) => boolean;
  readonly known: (letters: string) => boolean;
  readonly beforeNumber: (letters: string) => boolean;
};

const FRACTIONS: Readonly<Record<string, number>> = {
  '½': 0.5,
  '¼': 0.25,
  '¾': 0.75,
  '⅓': 1 / 3,
  '⅔': 2 / 3,
  '⅛': 0.125,
  '⅜': 0.375,
  '⅝': 0.625,
  '⅞': 0.875,
};

const PIECE =
  /(\n)|([\p{L}\p{M}\d'½¼¾⅓⅔⅛⅜⅝⅞]+(?:[.,]\d+)*(?:[½¼¾⅓⅔⅛⅜⅝⅞])?[\p{L}\p{M}\d']*)|(\p{Extended_Pictographic})|([^\s])/gu;

export const TROUBLE_CODE = /^[pcbu][0-3][0-9a-f]{3}$/;

/** Every token of a tidied text. Linear in the length. */
export function cutTokens(text: string, words: CutWords): Token[] {
  const tokens = cutPlain(text, words) ?? cutAny(text, words);
  return joinMarks(joinSlashes(tokens), words);
}

const isDigit = (code: number): boolean => code >= 48 && code <= 57;
const isOfWord = (code: number): boolean =>
  isDigit(code) || (code >= 97 && code <= 122) || (code >= 65 && code <= 90) || code === 39;

/** Where the letters, digits and apostrophes from a place on end. */
function endOfRun(text: string, from: number): number {
  let i = from;
  while (isOfWord(text.charCodeAt(i))) i += 1;
  return i;
}

/** Where the points and commas end that digits follow: ".5" and ",000" behind "1". */
function endOfPoints(text: string, from: number): number {
  let i = from;
  for (;;) {
    const code = text.charCodeAt(i);
    if ((code !== 46 && code !== 44) || !isDigit(text.charCodeAt(i + 1))) return i;
    i += 1;
    while (isDigit(text.charCodeAt(i))) i += 1;
  }
}

function hasDigit(text: string, from: number, to: number): boolean {
  for (let i = from; i < to; i += 1) if (isDigit(text.charCodeAt(i))) return true;
  return false;
}

/** The tokens of a text in plain letters, cut letter by letter; undefined where it has others. */
function cutPlain(text: string, words: CutWords): Token[] | undefined {
  for (let i = 0; i < text.length; i += 1) if (text.charCodeAt(i) > 127) return undefined;
  const tokens: Token[] = [];
  let end = -1;
  let i = 0;
  while (i < text.length) {
    const code = text.charCodeAt(i);
    if (code === 32 || (code >= 9 && code <= 13 && code !== 10)) {
      i += 1;
      continue;
    }
    const from = i;
    const glued = from === end;
    const run = endOfRun(text, from);
    if (run === from) {
      end = i = from + 1;
      tokens.push(tokenOf('mark', text.charAt(from), from, end, glued));
      continue;
    }
    const points = endOfPoints(text, run);
    end = i = points > run ? endOfRun(text, points) : run;
    const piece = text.slice(from, end);
    if (points === run && !hasDigit(text, from, run)) tokens.push(wordToken(piece, from, glued));
    else cutPiece(piece, from, glued, words, tokens, text);
  }
  return tokens;
}

function cutAny(text: string, words: CutWords): Token[] {
  const tokens: Token[] = [];
  PIECE.lastIndex = 0;
  let end = -1;
  for (let found = PIECE.exec(text); found; found = PIECE.exec(text)) {
    const from = found.index;
    const piece = found[0];
    const glued = from === end;
    end = from + piece.length;
    if (found[2] === undefined) {
      const kind = found[3] === undefined ? 'mark' : 'sign';
      tokens.push(tokenOf(kind, piece, from, end, glued));
    } else cutPiece(piece, from, glued, words, tokens, text);
  }
  return tokens;
}

const HAS_FIGURE = /[\d½¼¾⅓⅔⅛⅜⅝⅞]/;
const RUN = /[\p{L}\p{M}']+|\d+(?:[.,]\d+)*[½¼¾⅓⅔⅛⅜⅝⅞]?|[½¼¾⅓⅔⅛⅜⅝⅞]|[.,]/gu;

function cutPiece(
  piece: string,
  from: number,
  glued: boolean,
  words: CutWords,
  out: Token[],
  text: string,
): void {
  const small = piece.toLowerCase();
  const lower = small.length === piece.length ? small : piece;
  if (DIGITS.test(piece)) {
    numberTokens(piece, from, glued, out, text);
    return;
  }
  if (!HAS_FIGURE.test(lower)) {
    out.push(wordToken(piece, from, glued));
    return;
  }
  const runs = [...lower.matchAll(RUN)];
  if (TROUBLE_CODE.test(lower)) {
    out.push(tokenOf('code', piece, from, from + piece.length, glued));
    return;
  }
  if (runs.length === 1) {
    numberTokens(lower, from, glued, out, text);
    return;
  }
  const clock = /^(\d{1,2})h(\d{2})$/.exec(lower);
  if (clock) {
    out.push(tokenOf('code', lower, from, from + piece.length, glued));
    return;
  }
  if (
    !splits(
      runs.map((run) => run[0]),
      words,
    )
  ) {
    out.push(tokenOf('code', piece, from, from + piece.length, glued));
    return;
  }
  for (const run of runs) {
    const at = from + run.index;
    const part = run[0];
    const stuck = run.index > 0 || glued;
    if (/^[\d½¼¾⅓⅔⅛⅜⅝⅞]/.test(part)) numberTokens(part, at, stuck, out, text);
    else if (part === '.' || part === ',') out.push(tokenOf('mark', part, at, at + 1, true));
    else out.push(wordToken(piece.slice(run.index, run.index + part.length), at, stuck));
  }
}

/** Whether a mixture of letters and digits is figures with words, or a code that must stay whole. */
function splits(runs: readonly string[], words: CutWords): boolean {
  if (runs.length > 6) return false;
  return runs.every((run, index) => {
    if (!/^[\p{L}']/u.test(run)) return true;
    const before = index > 0;
    const after = index < runs.length - 1;
    if (before && /^('s|st|nd|rd|th|am|pm|x|of|no|ish|h)$/.test(run)) return true;
    if (before && !after && words.unit(run)) return true;
    if (before && after && runs.length === 3 && words.unit(run) && run.length > 1) return true;
    if (after && words.beforeNumber(run)) return true;
    const digits = runs[index + 1] ?? '';
    return run.length >= 2 && words.known(run) && !(after && digits.length > 3);
  });
}

const CAPITAL = /^\p{Lu}/u;

type Written = { readonly word: string; readonly capital: boolean };

/** What a written word is in small letters, kept in a bounded number: most words are written again and again. */
const written = keepAnswers<Written>();

function writtenOf(piece: string): Written {
  const have = written.get(piece);
  if (have) return have;
  const small = piece.toLowerCase();
  const lower = small.length === piece.length ? small : piece;
  const quoted = lower.includes("'");
  const word = lower === "'s" ? 'is' : quoted ? lower.replace(/^'+|'+$/g, '') : lower;
  // A letter that has a small form and is not it: no text without capitals comes to the second test.
  const made = { word: asName(word), capital: piece !== lower && CAPITAL.test(piece) };
  if (piece.length <= LONGEST_WORD) written.keep(piece, made);
  return made;
}

/** The same text as the engine keeps it for the names of fields: it is found fastest in every table of words. */
const asName = (word: string): string => Object.keys({ [word]: 0 })[0] ?? word;

function wordToken(piece: string, from: number, glued: boolean): Token {
  const { word, capital } = writtenOf(piece);
  return {
    kind: 'word',
    word,
    from,
    to: from + piece.length,
    glued,
    value: undefined,
    doubtful: false,
    capital,
    entry: undefined,
    mended: undefined,
  };
}

const SPLITS = /[.,]/;
const DIGITS = /^\d+$/;

/** Digits to one number, or to a list of them where a comma or dot stands between whole numbers. */
function numberTokens(run: string, from: number, glued: boolean, out: Token[], text: string): void {
  const end = from + run.length;
  const parts = SPLITS.test(run) ? run.split(/[.,]/) : undefined;
  if (!parts && DIGITS.test(run)) {
    out.push(tokenOf('number', run, from, end, glued, Number(run)));
    return;
  }
  const fraction = FRACTIONS[run.at(-1) ?? ''];
  if (fraction !== undefined) {
    const digits = run.slice(0, -1);
    const value = (digits === '' ? 0 : Number(digits.replace(',', '.'))) + fraction;
    out.push(tokenOf('number', run, from, end, glued, value));
    return;
  }
  if (!parts) {
    out.push(tokenOf('number', run, from, end, glued, Number(run)));
    return;
  }
  const [a = '', b = ''] = parts;
  const comma = run.includes(',');
  const thousands = parts.slice(1).every((part) => part.length === 3) && a.length <= 3 && a !== '0';
  if (parts.length === 2 && comma && !thousands) {
    const unitBehind =
      /^\s?(?:l|ltr|litres?|liters?|liter|nm|n\.?m|bar|mm|mpa|kpa|psi|v|volts?|kg|ml|cm|km|%|°|grad|m)\b/i.test(
        text.slice(from + run.length, from + run.length + 10),
      );
    if (
      a === '0' ||
      unitBehind ||
      (b.length >= 2 && a.length >= 2) ||
      (b.length === 2 && b[0] === '0')
    ) {
      out.push(tokenOf('number', run, from, end, glued, Number(`${a}.${b}`)));
      return;
    }
  }
  if (comma && thousands && !run.includes('.')) {
    out.push(tokenOf('number', run, from, end, glued, Number(parts.join(''))));
    return;
  }
  if (comma && run.includes('.') && /^\d{1,3}(,\d{3})+\.\d+$/.test(run)) {
    out.push(tokenOf('number', run, from, end, glued, Number(run.replaceAll(',', ''))));
    return;
  }
  if (!comma && parts.length === 2) {
    const doubtful = thousands && /^[1-9]/.test(a);
    out.push(tokenOf('number', run, from, end, glued, Number(run), doubtful));
    return;
  }
  listOfNumbers(run, from, glued, out);
}

function listOfNumbers(run: string, from: number, glued: boolean, out: Token[]): void {
  for (const found of run.matchAll(/\d+|[.,]/g)) {
    const at = from + found.index;
    const end = at + found[0].length;
    const stuck = glued || at > from;
    if (/\d/.test(found[0]))
      out.push(tokenOf('number', found[0], at, end, stuck, Number(found[0])));
    else out.push(tokenOf('mark', found[0], at, end, stuck));
  }
}

/** "n/s", "o/s/f", "l/h", "w/bearing" are one word each. */
function joinSlashes(tokens: Token[]): Token[] {
  if (!tokens.some((token) => token.word === '/')) return tokens;
  const out: Token[] = [];
  for (let i = 0; i < tokens.length; i += 1) {
    let token = tokens[i] as Token;
    while (
      token.kind === 'word' &&
      token.word.length <= 3 &&
      tokens[i + 1]?.word === '/' &&
      tokens[i + 1]?.glued &&
      tokens[i + 2]?.kind === 'word' &&
      tokens[i + 2]?.glued &&
      ((tokens[i + 2]?.word.length ?? 9) <= 2 || token.word.length === 1)
    ) {
      const last = tokens[i + 2] as Token;
      token = { ...token, word: token.word + last.word, to: last.to };
      i += 2;
    }
    out.push(token);
  }
  return out;
}

/** "TW-08" is the mark of a tool, one code; "cyl-3" is a place. */
function joinMarks(tokens: Token[], words: CutWords): Token[] {
  for (let i = 0; i + 2 < tokens.length; i += 1) {
    const dash = tokens[i + 1] as Token;
    if (dash.word !== '-') continue;
    const [a, b] = [tokens[i] as Token, tokens[i + 2] as Token];
    if (a.kind !== 'word' || dash.word !== '-' || b.kind !== 'number' || !dash.glued || !b.glued)
      continue;
    if (
      a.word.length > 4 ||
      !/^[a-z]+$/.test(a.word) ||
      words.beforeNumber(a.word) ||
      words.unit(a.word) ||
      words.known(a.word)
    )
      continue;
    tokens.splice(i, 3, tokenOf('code', `${a.word}-${b.word}`, a.from, b.to, a.glued));
  }
  return tokens;
}
