// The lines of a plan: titles and the words written for a step, and the longest of them in a text.
import type { Lexicon } from '../lexicon.ts';
import type { StepPhrases } from '../match/phrases.ts';
import { usualWordsOf } from '../match/usual-words.ts';
import type { Message } from '../message.ts';

export type Line = {
  readonly words: readonly string[];
  readonly step: string;
  readonly title: boolean;
  /** Not the plan's but any workshop's words for it. */
  readonly usual?: true;
};
export type Word = { readonly word: string; readonly from: number; readonly to: number };
export type Found = {
  readonly lines: readonly Line[];
  readonly from: number;
  readonly to: number;
  /** So many words of the text. */
  readonly words: number;
};

const WORD = /[\p{L}\p{N}]+(?:['’]\p{L}+)*/gu;
export const QUOTE = /["“”„«»?>]|^\s*'/;
export const FILL =
  /^(the|its|now|ok|okay|right|mate|lads|boss|guys|finally|also|too|and|chargehand|cheers|so|all|jetzt|auch|und|die|der|das|endlich|alles|everything|she|it|he|er|sie|es|there|here|chef|moin|hi|hello|yes|yep|ja)$/;
export const LONGEST = 200;

export function wordsOf(text: string): Word[] {
  const out: Word[] = [];
  WORD.lastIndex = 0;
  for (let found = WORD.exec(text); found; found = WORD.exec(text)) {
    const word = found[0].toLowerCase();
    out.push({
      word:
        word.includes("'") || word.includes('’') ? word.replace('’', "'").replace(/'s$/, '') : word,
      from: found.index,
      to: found.index + found[0].length,
    });
  }
  return out;
}

const indexes = new WeakMap<Lexicon, ReadonlyMap<string, readonly Line[]>>();

/** Titles and words of all steps and watched acts in every language of the plan, by their first word. */
function indexOf(lexicon: Lexicon): ReadonlyMap<string, readonly Line[]> {
  const have = indexes.get(lexicon);
  if (have) return have;
  const made = new Map<string, Line[]>();
  const add = (text: string, step: string, title: boolean, usual?: true) => {
    const words = wordsOf(text).map((one) => one.word);
    const first = words[0];
    if (first === undefined) return;
    const list = made.get(first) ?? [];
    const same = list.some(
      (one) => one.step === step && one.words.join(' ') === words.join(' ') && one.title === title,
    );
    if (!same) list.push({ words, step, title, ...(usual ? { usual } : {}) });
    made.set(first, list);
  };
  for (const item of [...lexicon.plan.steps, ...(lexicon.plan.watched ?? [])]) {
    const others = Object.values(item.also ?? {});
    for (const text of [item.title, ...others.flatMap((one) => one.title ?? [])])
      add(text, item.id, true);
    for (const text of [...(item.words ?? []), ...others.flatMap((one) => one.words ?? [])])
      add(text, item.id, false);
  }
  for (const tongue of lexicon.tongues)
    for (const [id, sayings] of usualWordsOf(lexicon.plan, tongue.pack))
      for (const text of sayings) add(text, id, false, true);
  indexes.set(lexicon, made);
  return made;
}

/** Small words that may stand between the words of a line: "tanks are empty". */
const BETWEEN: ReadonlySet<string> = new Set(
  'is are has have been the now all both ist sind jetzt alle beide'.split(' '),
);

/** How many words the line takes up from here; 0 where it does not stand here. */
function standsAt(line: readonly string[], words: readonly Word[], at: number): number {
  let here = at + 1;
  for (let k = 1; k < line.length; k += 1) {
    while (words[here]?.word !== line[k]) {
      if (!BETWEEN.has(words[here]?.word ?? '')) return 0;
      here += 1;
    }
    here += 1;
  }
  return here - at;
}

/** The longest line of the plan that stands in the words; several where steps share it. */
export function longestIn(
  words: readonly Word[],
  lexicon: Lexicon,
  title: boolean,
): Found | undefined {
  const index = indexOf(lexicon);
  let best: { lines: Line[]; at: number; size: number; length: number } | undefined;
  for (let at = 0; at < words.length; at += 1) {
    const lines = index.get(words[at]?.word ?? '');
    if (!lines) continue;
    for (const line of lines) {
      const size = line.words.length;
      if (line.title !== title || size < (best?.size ?? 1)) continue;
      const length = standsAt(line.words, words, at);
      if (length === 0) continue;
      if (best && best.size === size && best.at === at) best.lines.push(line);
      else if (!best || size > best.size) best = { lines: [line], at, size, length };
    }
  }
  const last = best && words[best.at + best.length - 1];
  if (!best || !last) return undefined;
  return { lines: best.lines, from: words[best.at]?.from ?? 0, to: last.to, words: best.length };
}

export type SaidBy = { readonly words: readonly Word[]; readonly phrase: Found | undefined };

/** The words of a message and the longest phrase of the plan in them, worked out once. */
export function saidBy(message: Message, lexicon: Lexicon): SaidBy {
  const memo = message.memo;
  if (memo.of === message && memo.value) return memo.value;
  const words = wordsOf(message.raw);
  const made = { words, phrase: longestIn(words, lexicon, false) };
  memo.of = message;
  memo.value = made;
  return made;
}

export function stepOf(id: string, lexicon: Lexicon): StepPhrases | undefined {
  for (const tongue of lexicon.tongues)
    for (const step of tongue.steps) if (step.id === id) return step;
  return undefined;
}

export const EMPTY: ReadonlySet<string> = new Set();

/** Words of a title but its first, which orders the work: "slide" of "slide pins free". */
export function titleWordsOf(id: string, lexicon: Lexicon): ReadonlySet<string> {
  const step = stepOf(id, lexicon);
  if (!step) return EMPTY;
  const have = titleWords.get(step);
  if (have) return have;
  const made = new Set(
    wordsOf(step.title)
      .slice(1)
      .map((one) => one.word)
      .filter((word) => word.length > 3),
  );
  titleWords.set(step, made);
  return made;
}

const titleWords = new WeakMap<StepPhrases, ReadonlySet<string>>();
