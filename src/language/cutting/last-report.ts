// Where the last word that reports stands, for strangers before it.
import type { VerbHit } from '../clause.ts';
import type { Tongue } from '../lexicon.ts';
import type { Token } from '../tidy/token.ts';

/** A word nobody knows before the word that reports, or where none reports: it may have been "not" or "off". */
export const isStrangerTelling = (
  strangers: readonly number[],
  from: number,
  last: number,
): boolean => strangers.length > 0 && (last < from || strangers.some((at) => at < last));

/** The place of the last word that reports: a verb, a particle, a state, "done". */
export function lastReport(
  tokens: readonly Token[],
  from: number,
  to: number,
  verbs: readonly VerbHit[],
  pack: Tongue['pack'],
): number {
  let last = verbs.at(-1)?.at ?? from - 1;
  for (let i = to - 1; i > last; i -= 1) {
    const word = tokens[i]?.word ?? '';
    if (
      pack.particles[word] !== undefined ||
      pack.states[word] !== undefined ||
      word === 'done' ||
      word === 'finished'
    )
      last = i;
  }
  return last;
}
