// Words that begin something new without a mark: a pronoun with its verb, an order, a place with its own word.
import type { Cue } from '../cue-table.ts';
import type { CueName } from '../pack.ts';
import type { Figure } from '../scan/figure.ts';
import type { Token } from '../tidy/token.ts';

/** "Road test done it is quiet": a pronoun with its verb begins something new. */
export const subjectWithVerb = (tokens: readonly Token[], i: number, to: number): boolean =>
  i + 2 < to &&
  // "Its stands" without an apostrophe owns them.
  !(tokens[i]?.from === tokens[i + 1]?.from && tokens[i + 2]?.entry?.plan === true) &&
  /^(it|they|she|he)$/.test(tokens[i]?.word ?? '') &&
  /^(is|are|was|were|has|have|had|will|can|could|does|did|goes|went)$/.test(
    tokens[i + 1]?.word ?? '',
  ) &&
  !/^(that|which|as|than|when|if|once|before|after|and|how|what|until|till|like|sure|think|reckon|hope)$/.test(
    tokens[i - 1]?.word ?? '',
  );

/** "Do not" at the head of an order, and not behind its subject: "I do not". */
export const isDont = (tokens: readonly Token[], i: number): boolean =>
  tokens[i]?.word === 'do' &&
  tokens[i + 1]?.word === 'not' &&
  !/^(i|we|they|you|that|which|pins|bolts|nuts)$/.test(tokens[i - 1]?.word ?? '') &&
  tokens[i - 1]?.entry?.plan !== true;

/** Signs that hold for all that stands behind them: "need the caliper hung" is one thing. */
export const TURNS: ReadonlySet<CueName> = new Set([
  'not',
  'cannot',
  'future',
  'condition',
  'wish',
  'doubt',
  'needs',
  'must',
  'question-word',
]);

/** Words that say of a place that it is still to come. */
export const TO_COME: ReadonlySet<CueName> = new Set([
  'not',
  'not-yet',
  'later',
  'next',
  'left-to-do',
]);

/** "Left done right not", "1 to 5 torqued 6 to follow": a second place with a word of its own opens something new. */
export function placeWithOwnWord(
  i: number,
  from: number,
  to: number,
  figures: readonly Figure[],
  cues: readonly Cue[],
  verb: boolean,
): boolean {
  const place = figures.find((figure) => figure.from === i && figure.kind === 'positions');
  if (!place || place.to >= to || i <= from) return false;
  const own = cues.some((cue) => TO_COME.has(cue.name) && cue.from === place.to && cue.to <= to);
  if (!own) return false;
  const before = figures.filter((figure) => figure.from >= from && figure.to <= i);
  return (
    before.some((figure) => figure.kind === 'positions') &&
    (verb || before.some((figure) => /^(quantity|stage|number)$/.test(figure.kind)))
  );
}

export const deniedFrom = (
  tokens: readonly Token[],
  i: number,
  to: number,
  cues: readonly Cue[],
): boolean =>
  cues.some((cue) => (cue.name === 'not' || cue.name === 'not-yet') && cue.from === i) &&
  !tokens[i]?.entry?.plan &&
  tokens
    .slice(i + 1, to)
    .some((token) => token.entry?.forms.includes('past') === true && !token.entry.plan);
