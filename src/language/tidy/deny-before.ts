// Words that may have been meant to deny or to place: before what was done, beside a side. The error is on the safe side.
import { slipOf } from './edits.ts';
import type { Token } from './token.ts';
import type { Vocabulary } from './vocabulary.ts';

const DONE: ReadonlySet<string> = new Set(['done', 'finished', 'finish']);

/** "Rear let", "rar right": beside one side a slip of another, so that no other place is taken. */
function sideBeside(
  token: Token,
  before: Token | undefined,
  next: Token | undefined,
): string | undefined {
  const across = before !== undefined && ALONG.includes(before.word);
  const along = next !== undefined && ACROSS.includes(next.word);
  if (!across && !along) return undefined;
  if (token.entry?.side || token.entry?.plan || token.word.length < 2 || isKnownWord(token))
    return undefined;
  return (across ? ACROSS : ALONG).find((side) => slipOf(token.word, side));
}

const ALONG = ['front', 'rear'];
const ACROSS = ['left', 'right'];
const MAY_BE_SIDE = ['let', 'font'];

const isKnownWord = (token: Token): boolean =>
  token.entry?.known === true && token.mended === undefined && !MAY_BE_SIDE.includes(token.word);

/** "Fuel's bot drained", "no clamped", "rear let": read as what they were meant for, the error on the safe side. */
export function denyBefore(tokens: Token[], vocabulary: Vocabulary): void {
  const { code, mayDeny = [] } = vocabulary.pack;
  if (code !== 'en') return;
  for (let i = 0; i < tokens.length; i += 1) {
    const [token, next, before] = [tokens[i], tokens[i + 1], tokens[i - 1]];
    if (token?.kind !== 'word') continue;
    const may = mayDeny.includes(token.word);
    const past =
      may &&
      next !== undefined &&
      ((next.entry?.forms.includes('past') === true && !next.entry.plan) || DONE.has(next.word));
    const last = next === undefined && token.word === 'no' && before?.kind === 'number' && i > 2;
    const as = past || last ? 'not' : sideBeside(token, before, next);
    const part = as === undefined ? undefined : vocabulary.look(as, false).parts[0];
    if (part) tokens[i] = { ...token, word: part.word, entry: part.entry, mended: token.word };
  }
}
