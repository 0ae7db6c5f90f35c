// What a noun of the plan is worth where it stands: the thing spoken of, a place, what goes with it, another thing.
import type { Tongue } from '../lexicon.ts';
import type { Token } from '../tidy/token.ts';

/** "On with a new ring": what goes with a part. */
export function behindWith(tokens: readonly Token[], i: number, from: number): boolean {
  let k = i - 1;
  while (
    k > from &&
    (/^(a|an|the|its|their|my|new|fresh|old|both|all|neuem|neuen|neuer|einem|einer)$/.test(
      tokens[k]?.word ?? '',
    ) ||
      tokens[k]?.kind === 'number' ||
      tokens[k]?.entry?.plan === true)
  )
    k -= 1;
  return /^(with|mit|without|ohne)$/.test(tokens[k]?.word ?? '');
}

/** "Wheel off ten nuts": what is counted behind a part holds it and names nothing new. */
export const counted = (tokens: readonly Token[], i: number, inFigure: Uint8Array): boolean =>
  tokens[i - 1]?.kind === 'number' && inFigure[i - 1] !== 0 && (tokens[i - 1]?.value ?? 0) > 1;

/** "No air left", "two left": what remains, and no side. */
export const leftOver = (tokens: readonly Token[], i: number): boolean =>
  [tokens[i - 1], tokens[i - 2]].some((token) => /^(no|none|nothing|any)$/.test(token?.word ?? ''));

/** "Heart valve", "wifi code", "boat engine": a noun before the plan's word makes it the word of another thing. */
export function ofSomethingElse(
  tokens: readonly Token[],
  i: number,
  from: number,
  inFigure: Uint8Array,
  pack: Tongue['pack'],
): boolean {
  const before = tokens[i - 1];
  if (pack.verbLast || i - 1 < from || before?.kind !== 'word' || inFigure[i - 1]) return false;
  const entry = before.entry;
  if (!entry || entry.plan || entry.stop || entry.side || entry.forms.length > 0) return false;
  if (before.capital || before.mended !== undefined || before.word.length < 4) return false;
  if (pack.particles[before.word] || pack.states[before.word]) return false;
  return !/(?:y|ed|ing|en|er|ish|est|ous|ic|al|ive|less|'s|s)$/.test(before.word);
}

/** "Down on the jack": the jack only says where, once another part was named. */
export function behindPlace(
  tokens: readonly Token[],
  i: number,
  from: number,
  named: number,
): boolean {
  if (named === 0) return false;
  const before = tokens[i - 1]?.word ?? '';
  const earlier = tokens[i - 2]?.word ?? '';
  return (
    i - 2 > from &&
    /^(the|my|a)$/.test(before) &&
    /^(on|onto|under|against|by|with|off)$/.test(earlier)
  );
}

/** "dry seal" is a seal; "seal dry" is a state. */
export const isAttribute = (tokens: readonly Token[], i: number) =>
  tokens[i + 1]?.entry?.plan === true;

/** "Then home", "off home": where people go. */
export const goesHome = (tokens: readonly Token[], i: number): boolean =>
  tokens[i]?.word === 'home' &&
  /^(then|go|going|off|at|get|went|gone|,|time|from|now|take)$/.test(tokens[i - 1]?.word ?? ',');
