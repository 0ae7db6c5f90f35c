// A word that nobody knows and that may turn what is said: a slip of "not", of a side, of "think". The error is on the
// safe side: what may deny does.
import type { LanguagePack } from '../pack.ts';
import { slipOf } from './edits.ts';
import { NEVER_MEND } from './never-mend.ts';
import type { PlanOwn } from './plan-own.ts';

export type Turning = {
  /** "Didnn't", "nott", "nlt", "boltsnot". */
  readonly byDenial: (word: string) => string | undefined;
  /** "Frnot left", "againfront". */
  readonly bySide: (word: string) => string | undefined;
  /** A slip of "about", "think", or one of them run together with the next word. */
  readonly byTurning: (word: string) => string | undefined;
};

/** Small words that are often run together with their neighbour. */
const GLUED = 'the from with again not then apart and bar two three four five six'.split(' ');

const ASKING = ['is', 'are', 'was', 'has', 'did', 'were'];

/** Words of sides in which a slip is mended: those that mean a side of the plan. */
function sideWordsOf(pack: LanguagePack, own: PlanOwn): readonly string[] {
  const meant = new Set(Object.values(own.sides).flat());
  return [
    ...new Set([
      ...Object.keys(own.sides),
      ...Object.entries(pack.sides)
        .filter(([word, list]) => word.length > 4 && list.every((side) => meant.has(side)))
        .map(([word]) => word),
    ]),
  ].filter((word) => word.length >= 4);
}

/** What turns a report in a language, and where on the plan's vehicle. */
export function makeTurning(
  pack: LanguagePack,
  own: PlanOwn,
  known: (word: string) => boolean,
): Turning {
  const common = new Set(pack.common);
  const sides = new Set(Object.keys(own.sides));
  const sideWords = sideWordsOf(pack, own);
  const english = pack.code === 'en';
  const isShort = (word: string) => pack.abbreviations[word] !== undefined;
  const behind = (word: string, first: string) =>
    word.startsWith(first) ? word.slice(first.length) : '';
  const before = (word: string, last: string) =>
    word.endsWith(last) ? word.slice(0, -last.length) : '';

  const byTurning = (word: string): string | undefined => {
    if (word.length < 3 || common.has(word)) return undefined;
    for (const other of pack.turning ?? []) {
      const meant = () => pack.contractions[other] ?? other;
      if ((other.length > 3 || word.length <= 4) && slipOf(word, other)) return meant();
      const rest = behind(word, other);
      if (other.length < 4 && !isShort(rest)) continue;
      if (rest.length > 1 && known(rest)) return `${meant()} ${rest}`;
      const front = other.length > 2 ? before(word, other) : '';
      if (front.length > 1 && known(front)) return `${front} ${meant()}`;
    }
    for (const small of GLUED) {
      const rest = behind(word, small);
      if (rest.length > 2 && (known(rest) || isShort(rest))) return `${small} ${rest}`;
      const front = before(word, small);
      if (front.length > 2 && known(front)) return `${front} ${small}`;
    }
    for (const first of ASKING) {
      const rest = behind(word, first);
      if (/^(the|it|they|all|we|you|she|he)$/.test(rest)) return `${first} ${rest}`;
    }
    return undefined;
  };

  const byDenial = (word: string): string | undefined => {
    if (pack.turning === undefined || common.has(word) || NEVER_MEND.has(word)) return undefined;
    if (word.length > 2 && word.endsWith("'t")) return 'did not';
    if (english && word.length >= 7 && word.endsWith('not')) return `${word.slice(0, -3)} not`;
    // "Boltsnot", "batterynoot": run together with what it denies.
    for (let cut = Math.max(4, word.length - 4); english && cut <= word.length - 2; cut += 1) {
      const rest = word.slice(cut);
      if ((rest === 'not' || slipOf(rest, 'not')) && known(word.slice(0, cut)))
        return `${word.slice(0, cut)} not`;
    }
    const short = english && word.length >= 2 && word.length <= 4;
    return short && (slipOf(word, 'not') || slipOf(word, 'nto')) ? 'not' : undefined;
  };

  const bySide = (word: string): string | undefined => {
    if (word.length < 4 || common.has(word)) return undefined;
    for (const side of sideWords) {
      if (slipOf(word, side)) return side;
      const front = before(word, side);
      if (front.length > 1 && (known(front) || sides.has(front))) return `${front} ${side}`;
      const rest = behind(word, side);
      if (rest.length > 1 && (known(rest) || sides.has(rest))) return `${side} ${rest}`;
    }
    return undefined;
  };

  return { byDenial, bySide, byTurning };
}
