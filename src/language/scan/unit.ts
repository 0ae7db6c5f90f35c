// A unit behind a figure: one to four tokens, longest first. Short letters only right behind their figure.
import type { Token } from '../tidy/token.ts';
import type { ScanWords } from './figure.ts';

/** Units of one letter that are words or numbers of something else unless they touch their figure. */
const ONLY_TOUCHING = new Set(['a', 's', 'h', 'm', 'g', 'f', 'v', 'k', '"', 'pc']);
/** Words that are units only where nothing else can be meant. */
const NEVER_ALONE = new Set(['in']);

/** The unit at a place, and the place behind it. */
export function unitAt(
  tokens: readonly Token[],
  i: number,
  words: ScanWords,
): { unit: string; next: number } | undefined {
  let joined = '';
  let best: { unit: string; next: number } | undefined;
  for (let k = i; k < i + 4 && k < tokens.length; k += 1) {
    const token = tokens[k] as Token;
    if (token.kind === 'number' || token.kind === 'code' || token.word === '\n') break;
    if (token.word === '-' || token.word === '.' || token.word === '·') {
      if (token.glued && tokens[k + 1]?.glued && k > i) continue;
      break;
    }
    joined = joined === '' ? token.word : `${joined} ${token.word}`;
    const unit = words.units[joined];
    if (unit !== undefined && !(k === i && !mayBeUnit(token, unit, words, tokens[k + 1])))
      best = { unit, next: k + 1 };
    if (k === i && !startersOf(words.units).has(token.word)) break;
  }
  return best;
}

const starters = new WeakMap<ScanWords['units'], ReadonlySet<string>>();

/** The words that units of several words begin with, made once for each language. */
function startersOf(units: ScanWords['units']): ReadonlySet<string> {
  const have = starters.get(units);
  if (have) return have;
  const made = new Set(
    Object.keys(units).flatMap((unit) => (unit.includes(' ') ? [unit.split(' ')[0] ?? ''] : [])),
  );
  starters.set(units, made);
  return made;
}

function mayBeUnit(token: Token, unit: string, words: ScanWords, next: Token | undefined): boolean {
  if (
    NEVER_ALONE.has(token.word) ||
    (token.word.length === 1 && next?.kind === 'number' && next.glued)
  )
    return false;
  if (ONLY_TOUCHING.has(token.word) && !token.glued) {
    return token.capital === true && (token.word === 'v' || token.word === 'm') === true;
  }
  if (token.word.length <= 2 && words.usable && !words.usable.has(unit) && !token.glued) {
    return token.word !== 'c' && token.word !== 'pt' && token.word !== 'l';
  }
  return true;
}
