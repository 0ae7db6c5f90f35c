// Cuts tidied text into tokens: words, numbers, codes, marks and signs. Splits figures from their units.
import type { Token } from './token.ts';

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

/** Every token of a tidied text, at most `limit` of them. Linear in the length. */
export function cutTokens(text: string, words: CutWords): Token[] {
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
      tokens.push({ kind, word: piece, from, to: end, glued });
    } else cutPiece(piece, from, glued, words, tokens, text);
  }
  return joinMarks(joinSlashes(tokens), words);
}

const RUN = /[\p{L}\p{M}']+|\d+(?:[.,]\d+)*[½¼¾⅓⅔⅛⅜⅝⅞]?|[½¼¾⅓⅔⅛⅜⅝⅞]|[.,]/gu;

function cutPiece(
  piece: string,
  from: number,
  glued: boolean,
  words: CutWords,
  out: Token[],
  text: string,
): void {
  const lower = piece.toLowerCase().length === piece.length ? piece.toLowerCase() : piece;
  if (!/[\d½¼¾⅓⅔⅛⅜⅝⅞]/.test(lower)) {
    out.push(wordToken(piece, lower, from, glued));
    return;
  }
  const runs = [...lower.matchAll(RUN)];
  if (TROUBLE_CODE.test(lower)) {
    out.push({ kind: 'code', word: piece, from, to: from + piece.length, glued });
    return;
  }
  if (runs.length === 1) {
    numberTokens(lower, from, glued, out, text);
    return;
  }
  const clock = /^(\d{1,2})h(\d{2})$/.exec(lower);
  if (clock) {
    out.push({ kind: 'code', word: lower, from, to: from + piece.length, glued });
    return;
  }
  if (
    !splits(
      runs.map((run) => run[0]),
      words,
    )
  ) {
    out.push({ kind: 'code', word: piece, from, to: from + piece.length, glued });
    return;
  }
  for (const run of runs) {
    const at = from + run.index;
    const part = run[0];
    const stuck = run.index > 0 || glued;
    if (/^[\d½¼¾⅓⅔⅛⅜⅝⅞]/.test(part)) numberTokens(part, at, stuck, out, text);
    else if (part === '.' || part === ',')
      out.push({ kind: 'mark', word: part, from: at, to: at + 1, glued: true });
    else out.push(wordToken(piece.slice(run.index, run.index + part.length), part, at, stuck));
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

function wordToken(piece: string, lower: string, from: number, glued: boolean): Token {
  const word = lower === "'s" ? 'is' : lower.replace(/^'+|'+$/g, '');
  const capital = /^\p{Lu}/u.test(piece);
  const token: Token = { kind: 'word', word, from, to: from + piece.length, glued };
  return capital ? { ...token, capital } : token;
}

/** Digits to one number, or to a list of them where a comma or dot stands between whole numbers. */
function numberTokens(run: string, from: number, glued: boolean, out: Token[], text: string): void {
  const whole = { kind: 'number', word: run, from, to: from + run.length, glued } as const;
  const fraction = FRACTIONS[run.at(-1) ?? ''];
  if (fraction !== undefined) {
    const digits = run.slice(0, -1);
    out.push({
      ...whole,
      value: (digits === '' ? 0 : Number(digits.replace(',', '.'))) + fraction,
    });
    return;
  }
  const parts = run.split(/[.,]/);
  if (parts.length === 1) {
    out.push({ ...whole, value: Number(run) });
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
      out.push({ ...whole, value: Number(`${a}.${b}`) });
      return;
    }
  }
  if (comma && thousands && !run.includes('.')) {
    out.push({ ...whole, value: Number(parts.join('')) });
    return;
  }
  if (comma && run.includes('.') && /^\d{1,3}(,\d{3})+\.\d+$/.test(run)) {
    out.push({ ...whole, value: Number(run.replaceAll(',', '')) });
    return;
  }
  if (!comma && parts.length === 2) {
    const doubtful = thousands && /^[1-9]/.test(a);
    out.push({ ...whole, value: Number(run), ...(doubtful ? { doubtful } : {}) });
    return;
  }
  listOfNumbers(run, from, glued, out);
}

function listOfNumbers(run: string, from: number, glued: boolean, out: Token[]): void {
  for (const found of run.matchAll(/\d+|[.,]/g)) {
    const at = from + found.index;
    const token = { word: found[0], from: at, to: at + found[0].length, glued: glued || at > from };
    if (/\d/.test(found[0])) out.push({ kind: 'number', ...token, value: Number(found[0]) });
    else out.push({ kind: 'mark', ...token });
  }
}

/** "n/s", "o/s/f", "l/h", "w/bearing" are one word each. */
function joinSlashes(tokens: Token[]): Token[] {
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
    const [a, dash, b] = [tokens[i] as Token, tokens[i + 1] as Token, tokens[i + 2] as Token];
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
    tokens.splice(i, 3, {
      kind: 'code',
      word: `${a.word}-${b.word}`,
      from: a.from,
      to: b.to,
      glued: a.glued,
    });
  }
  return tokens;
}
