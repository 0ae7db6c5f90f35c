// Taking a person's names out of texts that are shown: cards, lines of a conversation.

export const NAME_OUT = 'removed person';

/** What carries no words: ids, keys, and what a button does. */
const LEFT_ALONE: ReadonlySet<string> = new Set([
  ...['id', 'key', 'client', 'what', 'kind', 'level', 'thread', 'message', 'intent', 'svg'],
]);

const patternOf = (names: readonly string[], flags: string): RegExp => {
  const escaped = [...names]
    .sort((a, b) => b.length - a.length)
    .map((name) => name.replace(/[.*+?^${}()|[\]\\]/gu, '\\$&'));
  return new RegExp(`(?<![\\p{L}\\p{N}])(?:${escaped.join('|')})(?![\\p{L}\\p{N}])`, flags);
};

/** The names that are more than spaces. */
export const wordsOf = (names: readonly string[]): readonly string[] =>
  names.map((name) => name.trim()).filter((name) => name !== '');

/** A text that somebody typed without the names, in capital or small letters. */
export const typedWithout = (text: string, names: readonly string[]): string =>
  wordsOf(names).length === 0 ? text : text.replace(patternOf(wordsOf(names), 'giu'), NAME_OUT);

/**
 * The same value with the names taken out of every text in it, wherever a name stands as a word of its own, spelled as
 * given; the same object where none does.
 */
export const withoutNames = <T>(value: T, names: readonly string[]): T => {
  const wanted = wordsOf(names);
  if (wanted.length === 0) return value;
  const pattern = patternOf(wanted, 'gu');
  const out = (at: unknown): unknown => {
    if (typeof at === 'string') return at.replace(pattern, NAME_OUT);
    if (Array.isArray(at)) {
      const next = at.map(out);
      return next.some((each, index) => each !== at[index]) ? next : at;
    }
    if (typeof at !== 'object' || at === null) return at;
    let changed: Record<string, unknown> | undefined;
    for (const [key, old] of Object.entries(at)) {
      if (LEFT_ALONE.has(key)) continue;
      const next = out(old);
      if (next === old) continue;
      changed ??= { ...at };
      changed[key] = next;
    }
    return changed ?? at;
  };
  return out(value) as T;
};
