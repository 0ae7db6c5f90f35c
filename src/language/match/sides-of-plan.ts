// The words by which a plan's places are told apart, and their short forms: "drive left" is "dl", "return" is "rtn".
import type { Plan } from '../../job/plan.ts';
import type { LanguagePack } from '../pack.ts';
import { tellingWords } from './positions.ts';

/**
 * Words of sides in the plan's positions, whichever language knows them: a German may write "nearside" too. A word of the
 * plan's own that tells its places apart ("drive left", "tag left"; "feed", "return") is a side there as well. Short forms
 * count where only one place has them and no language has the word.
 */
export function sidesOfPlan(
  plan: Plan,
  packs: readonly LanguagePack[],
): Record<string, readonly string[]> {
  const sides: Record<string, readonly string[]> = {};
  const short = new Map<string, readonly string[] | undefined>();
  const offer = (word: string, means: readonly string[]) => {
    const other = short.get(word);
    const same = other === undefined || other.join() === means.join();
    short.set(word, short.has(word) && !same ? undefined : means);
  };
  for (const set of Object.values(plan.positions ?? {})) {
    const telling = new Set(tellingWords(set.names));
    for (const name of set.names) {
      const words = name.toLowerCase().match(/[\p{L}\d]+/gu) ?? [];
      for (const word of words) {
        const known = packs.map((pack) => pack.sides[word]).find((one) => one !== undefined);
        const means = known ?? (telling.has(word) ? [word] : undefined);
        if (means === undefined) continue;
        sides[word] = means;
        if (known === undefined) offer(consonantsOf(word), means);
      }
      const meant = words.map((word) => sides[word]);
      if (meant.length > 1 && meant.every((one) => one !== undefined))
        offer(words.map((word) => word[0]).join(''), meant.flat());
    }
  }
  const taken = takenWords(packs);
  for (const [word, means] of short)
    if (means !== undefined && word.length > 1 && !taken.has(word)) sides[word] ??= means;
  return sides;
}

/** The first letter and the consonants behind it, one for each run of the same. */
const consonantsOf = (word: string): string =>
  `${word[0]}${word.slice(1).replace(/[aeiouyäöü]/g, '')}`.replace(/(.)\1+/gu, '$1');

const takenWords = (packs: readonly LanguagePack[]): ReadonlySet<string> =>
  new Set(
    packs.flatMap((pack) => [
      ...pack.common,
      ...Object.keys(pack.particles),
      ...Object.keys(pack.sides),
      ...Object.keys(pack.units),
      ...Object.keys(pack.abbreviations),
      ...Object.keys(pack.numbers),
    ]),
  );
