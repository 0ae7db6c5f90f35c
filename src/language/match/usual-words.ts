// What any workshop says of a work that a title names, beside the words that the plan gives it itself.
import type { Step, Watched } from '../../../shared/plan.ts';
import type { Plan } from '../../job/plan.ts';
import type { LanguagePack, UsualWords } from '../pack.ts';
import { rootOf } from '../tidy/word-forms.ts';

type Item = Step | Watched;

/** The title of a step in a language, if the plan has it. */
function titleIn(item: Item, plan: Plan, pack: LanguagePack): string | undefined {
  return (plan.language ?? 'en') === pack.code ? item.title : item.also?.[pack.code]?.title;
}

const wordsIn = (text: string): readonly string[] => text.toLowerCase().match(/[\p{L}]+/gu) ?? [];

const has = (words: ReadonlySet<string>, one: string): boolean =>
  one.startsWith('~')
    ? [...words].some((word) => word.startsWith(one.slice(1)) || word.endsWith(one.slice(1)))
    : words.has(one);

function holds(row: UsualWords, title: string, pack: LanguagePack): boolean {
  const words = new Set(wordsIn(title).flatMap((word) => [word, rootOf(word, pack)]));
  if (row.not?.some((one) => has(words, one))) return false;
  return row.of.every((choices) => choices.some((one) => has(words, one)));
}

/** The plan's own words of every step, in every language: what they say is theirs alone. */
function ownLines(items: readonly Item[]): ReadonlySet<string> {
  const own = new Set<string>();
  const add = (text: string) => own.add(wordsIn(text).join(' '));
  for (const item of items) {
    for (const text of item.words ?? []) add(text);
    for (const also of Object.values(item.also ?? {}))
      for (const text of also.words ?? []) add(text);
  }
  return own;
}

/**
 * The usual words of each step of a plan in one language, by the step's id. What two steps would share, and what the
 * plan itself says of a step, is left out.
 */
export function usualWordsOf(
  plan: Plan,
  pack: LanguagePack,
): ReadonlyMap<string, readonly string[]> {
  const items: readonly Item[] = [...plan.steps, ...(plan.watched ?? [])];
  const own = ownLines(items);
  const bySaying = new Map<string, Set<string>>();
  for (const item of items) {
    const title = titleIn(item, plan, pack);
    if (title === undefined) continue;
    for (const row of pack.usual ?? []) {
      if (!holds(row, title, pack)) continue;
      for (const saying of row.says)
        bySaying.set(saying, (bySaying.get(saying) ?? new Set()).add(item.id));
    }
  }
  const out = new Map<string, string[]>();
  for (const [saying, ids] of bySaying) {
    const [id] = ids;
    if (ids.size !== 1 || id === undefined || own.has(wordsIn(saying).join(' '))) continue;
    out.set(id, [...(out.get(id) ?? []), saying]);
  }
  return out;
}
