// A word that nobody knows, taken for the one word of the plan or verb that it is a slip of.
import type { LanguagePack } from '../pack.ts';
import { MEND_FROM } from '../thresholds.ts';
import { oneEdit } from './edits.ts';
import type { Entries } from './entries.ts';
import { NEVER_MEND } from './never-mend.ts';
import type { PlanOwn, PlanVerbs, PlanWords } from './plan-own.ts';
import { rootOf, verbsOf } from './word-forms.ts';

export type Mending = {
  /** The word or the two words that a word with one slip stands for. */
  readonly mend: (word: string) => readonly string[] | undefined;
  /** "strpd", "clmps": no vowels left. */
  readonly bySkeleton: (word: string) => string | undefined;
  /** "spig" for spigot: the only word of the plan that begins so. */
  readonly byPrefix: (word: string) => string | undefined;
};

/** A word that a slip may have been meant for. */
type Meant = {
  readonly word: string;
  readonly ofPlan: boolean;
  /** Its consonants and those of its plural. */
  readonly bones: readonly string[];
};

/** A vocabulary's words for slips, laid out by their first letter. */
export function makeMending(
  pack: LanguagePack,
  planWords: PlanWords,
  planVerbs: PlanVerbs,
  own: PlanOwn,
  { entryOf, isKnown }: Entries,
): Mending {
  const verbs = verbsOf(pack);
  const common = new Set(pack.common);
  const isPlan = (word: string) => planWords.has(rootOf(word, pack));

  const byFirst = new Map<string, string[]>();
  for (const word of new Set([
    ...planWords,
    ...[...planWords].map((one) => `${one}s`),
    ...verbs.keys(),
    ...planVerbs.keys(),
    ...own.compounds,
    'cylinder',
    'cylinders',
    'stage',
  ])) {
    if (word.length < MEND_FROM) continue;
    const list = byFirst.get(word[0] ?? '');
    if (list) list.push(word);
    else byFirst.set(word[0] ?? '', [word]);
  }

  /** The words with a first letter, with what is compared of them; made when a slip with this letter is first met. */
  const meantBy = new Map<string, readonly Meant[]>();
  const meant = (first: string): readonly Meant[] => {
    const have = meantBy.get(first);
    if (have) return have;
    const made = (byFirst.get(first) ?? []).map((word) => ({
      word,
      ofPlan: isPlan(word),
      bones: [skeleton(word), skeleton(`${word}s`)],
    }));
    if (made.length > 0) meantBy.set(first, made);
    return made;
  };

  /** Words of the plan without their first letter, and the letters that they may begin with. */
  let tails: Map<string, string> | undefined;
  const tailsOfPlan = (): ReadonlyMap<string, string> => {
    if (tails) return tails;
    tails = new Map();
    for (const word of [...byFirst.values()].flat()) {
      if (!isPlan(word)) continue;
      const tail = word.slice(1);
      tails.set(tail, `${tails.get(tail) ?? ''}${word[0]}`);
    }
    return tails;
  };

  /** Whether a word of the plan is one slip away, the slip being in the first letter. */
  const slipAtFirst = (word: string): boolean => {
    const list = tailsOfPlan();
    const first = word[0] ?? '';
    const rest = word.slice(1);
    const begins = (text: string): boolean =>
      text[0] !== first && (list.get(text.slice(1))?.includes(text[0] ?? '?') ?? false);
    const others = (tail: string): boolean =>
      [...(list.get(tail) ?? '')].some((letter) => letter !== first);
    return (
      others(rest) ||
      others(word) ||
      begins(rest) ||
      begins(`${rest[0] ?? ''}${first}${rest.slice(1)}`)
    );
  };

  /** "Huts" may be hubs and nuts, "cuaged" caged and uncaged: where another word is as near, none is taken. */
  const mayBeOther = (word: string, first: string): boolean =>
    (word.length > first.length && isKnown(`un${first}`)) ||
    (word.length <= 5 && slipAtFirst(word));

  const sameMeaning = (list: readonly string[]): boolean => {
    const first = entryOf(list[0] ?? '');
    return list.every((other) => {
      const entry = entryOf(other);
      return (
        entry.root === first.root || (entry.lemma !== undefined && entry.lemma === first.lemma)
      );
    });
  };

  /** Two words run together: a word of the plan, and another one or a particle behind it. */
  const unglue = (word: string): string[] | undefined => {
    for (let cut = 3; cut <= word.length - 2; cut += 1) {
      const a = word.slice(0, cut);
      const b = word.slice(cut);
      const planA = isPlan(a);
      const planB = isPlan(b);
      const moves =
        pack.particles[b] !== undefined || (verbs.get(b)?.forms.includes('past') ?? false);
      if (
        (planA && (planB || moves)) ||
        (planB && b.length > 3 && a.length > 3 && (planA || verbs.has(a)))
      )
        return [a, b];
    }
    return undefined;
  };

  const mend = (word: string): readonly string[] | undefined => {
    if (word.length < MEND_FROM || NEVER_MEND.has(word) || common.has(word)) return undefined;
    const squeezed = word.replace(/(.)\1+/g, '$1$1');
    if (squeezed !== word && isKnown(squeezed)) return [squeezed];
    // "Chockd", "strippd": the ending without its vowel, and not the bare verb with a letter too many.
    // "Standd" is a letter twice: what is on stands has not been stood.
    const ended = /[^aeioud]d$/.test(word) ? `${word.slice(0, -1)}ed` : '';
    if (ended !== '' && isKnown(ended) && entryOf(ended).forms.includes('past')) return [ended];
    const near = meant(word[0] ?? '').filter(({ word: other, ofPlan }) => {
      const longer = word.length - other.length;
      if (longer > 2 || longer < -1) return false;
      const slipped =
        oneEdit(word, other) || (word.length > 5 && ofPlan && oneEdit(word, `${other}s`));
      return slipped && !NEVER_MEND.has(other) && endsAlike(word, other);
    });
    const inPlan = near.filter((one) => one.ofPlan);
    const best = (inPlan.length > 0 ? inPlan : near).map((one) => one.word);
    const first = best[0];
    if (first !== undefined && mayBeOther(word, first)) return undefined;
    if (first !== undefined && sameMeaning(best)) return [first];
    return first !== undefined ? undefined : unglue(word);
  };

  /** The only word of the plan or verb that has these consonants in this order. */
  const bySkeleton = (word: string): string | undefined => {
    if (word.length < 3 || !/^[a-z][^aeiou\d]*$/.test(word) || !/^[a-z]+$/.test(word))
      return undefined;
    const found = meant(word[0] ?? '').filter((one) =>
      one.bones.some(
        (bones) =>
          bones.length - word.length <= 1 &&
          bones.length >= word.length &&
          bones.at(-1) === word.at(-1) &&
          isWithin(word, bones),
      ),
    );
    const inPlan = found.filter((one) => one.ofPlan);
    if (word.length < 4 && inPlan.length === 0) return undefined;
    const verbsHere = found.filter((one) => own.lemmas.has(verbs.get(one.word)?.lemma ?? ''));
    const best = (inPlan.length > 0 ? inPlan : verbsHere.length > 0 ? verbsHere : found).map(
      (one) => one.word,
    );
    return best.length > 0 && sameMeaning(best) ? best[0] : undefined;
  };

  const byPrefix = (word: string): string | undefined => {
    if (pack.nouns !== undefined) return undefined;
    if (word.length < 3 || common.has(word) || NEVER_MEND.has(word)) return undefined;
    let found: string | undefined;
    for (const other of planWords) {
      if (other.length < word.length + 2 || !other.startsWith(word)) continue;
      if (found !== undefined) return undefined;
      found = other;
    }
    return found;
  };

  return { mend, bySkeleton, byPrefix };
}

const skeleton = (word: string) =>
  `${word[0] ?? ''}${word.slice(1).replace(/[aeiou]/g, '')}`.replace(/(.)\1+/g, '$1');

/** Whether the letters of one word stand in another in their order. */
export function isWithin(small: string, large: string): boolean {
  let at = 0;
  for (let k = 0; k < large.length; k += 1) if (large[k] === small[at]) at += 1;
  return at === small.length;
}

/** A slip never makes a report: "cooler" is not "cooled", so the last letter of a verb must be right. */
function endsAlike(word: string, other: string): boolean {
  return (
    word.at(-1) === other.at(-1) ||
    !/(ed|ing|en|t)$/.test(other) ||
    word.slice(-2) === `${other.at(-1)}${other.at(-2)}`
  );
}
