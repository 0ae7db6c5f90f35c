// Another name for a thing of the plan: what one workshop calls a cardan is the prop of the plan.
import type { LanguagePack } from '../pack.ts';
import type { PlanWords } from './plan-own.ts';
import { rootOf } from './word-forms.ts';

const SHORTEST_TAIL = 4;

/**
 * Finds the word of the plan that another name stands for: the only one of its row that the plan has, or, where nouns
 * are made of nouns, the only noun of the plan that ends in it.
 *
 * @param nouns nouns as the plan writes them
 */
export function makeSameThing(
  pack: LanguagePack,
  planWords: PlanWords,
  nouns: ReadonlySet<string> = new Set(),
): (word: string) => string | undefined {
  const rows = new Map<string, readonly string[]>();
  for (const row of pack.sameThing ?? [])
    for (const name of row) {
      const root = rootOf(name, pack);
      rows.set(root, [...(rows.get(root) ?? []), ...row]);
    }
  const inPlan = (name: string) => planWords.has(name) || planWords.has(rootOf(name, pack));
  return (word) => {
    const root = rootOf(word, pack);
    const others = (rows.get(root) ?? []).filter(inPlan);
    const roots = new Set(others.map((one) => rootOf(one, pack)));
    if (roots.size === 1) return others[0];
    if (pack.nouns === undefined || word.length < SHORTEST_TAIL) return undefined;
    const tails = [...nouns].filter(
      (one) =>
        inPlan(one) &&
        one.length > word.length + 2 &&
        (one.endsWith(word) || rootOf(one, pack).endsWith(root)),
    );
    return tails.length === 1 ? tails[0] : undefined;
  };
}
