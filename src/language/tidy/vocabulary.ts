// The words of a language and a plan, each looked up once and mended once.

import type { LanguagePack } from '../pack.ts';
import { LONGEST_WORD } from '../thresholds.ts';
import { makeSplitter } from './compounds.ts';
import { slipOf } from './edits.ts';
import { makeEntries } from './entries.ts';
import { keepAnswers } from './kept-answers.ts';
import { isWithin, makeMending } from './mending.ts';
import { NOTHING_OWN, type PlanOwn, type PlanVerbs, type PlanWords } from './plan-own.ts';
import { makeSameThing } from './same-thing.ts';
import type { Entry } from './token.ts';
import { makeTurning } from './turning.ts';
import { rootOf, verbsOf } from './word-forms.ts';

export type Vocabulary = {
  readonly pack: LanguagePack;
  /** Figures of the plan: "six fifty" is 650 where one of them is. */
  readonly figures: ReadonlySet<number>;
  /** The word of the plan that a short form stands for before another one: "int" before "hose". */
  readonly before: (short: string, next: string) => string | undefined;
  /** The words a written word stands for: itself, a short form's meaning, or the mended word. */
  readonly look: (word: string, mend: boolean) => Looked;
  readonly isKnown: (word: string) => boolean;
};

export type Looked = {
  readonly parts: readonly { readonly word: string; readonly entry: Entry }[];
  readonly mended: boolean;
};

const STRANGER: Entry = {
  root: '',
  lemma: undefined,
  classes: [],
  forms: [],
  plan: false,
  stop: false,
  side: undefined,
  known: false,
};

/**
 * Looks words up, mends them within one edit, opens short forms. Answers are kept, up to a bounded number, and are the
 * same whatever was asked before.
 */
export function makeVocabulary(
  pack: LanguagePack,
  planWords: PlanWords,
  planVerbs: PlanVerbs,
  own: PlanOwn = NOTHING_OWN,
): Vocabulary {
  const splitCompound = own.split ?? makeSplitter(pack);
  const verbs = verbsOf(pack);
  const entries = makeEntries(pack, planWords, planVerbs, own);
  const { entryOf, isSmall } = entries;
  const known = entries.isKnown;
  const sameThing = makeSameThing(pack, planWords, own.nouns);
  const { mend, bySkeleton, byPrefix } = makeMending(pack, planWords, planVerbs, own, entries);
  const { byDenial, bySide, byTurning } = makeTurning(pack, own, known);

  const partsOf = (text: string) =>
    text
      .split(' ')
      .flatMap((word) => splitCompound(word) ?? [word])
      .map((word) => ({ word, entry: entryOf(word) }));

  /** "geprueft" and "angezogen", "geloest" and "gelöst": the spelling the language lists. */
  const respelled = (word: string): string | undefined => {
    if (pack.root === undefined || !/[aou]e|ss/.test(word)) return undefined;
    const umlauts = word.replace(/ae/g, 'ä').replace(/oe/g, 'ö').replace(/ue/g, 'ü');
    return [umlauts, word.replace(/ss/g, 'ß'), umlauts.replace(/ss/g, 'ß')].find(
      (one) => one !== word && isKnown(one),
    );
  };

  const isKnown = (word: string): boolean =>
    known(word) ||
    (pack.nouns !== undefined &&
      (pack.contractions[word] !== undefined ||
        pack.abbreviations[word] !== undefined ||
        splitCompound(word) !== undefined));

  const resolve = (word: string, mending: boolean): Looked => {
    if (word.length > LONGEST_WORD) return { parts: [{ word, entry: STRANGER }], mended: false };
    const opened = pack.contractions[word];
    if (opened !== undefined) return { parts: partsOf(opened), mended: false };
    const entry = entryOf(word);
    if (entry.plan) return { parts: [{ word, entry }], mended: false };
    if (pack.nouns !== undefined && !verbs.has(word) && !isSmall(word)) {
      if (splitCompound(word)) return { parts: partsOf(word), mended: false };
      const other = entry.known ? undefined : respelled(word);
      if (other !== undefined) return resolve(other, mending);
    }
    const plainWord = word.replaceAll("'", '');
    if (plainWord !== word && pack.abbreviations[plainWord] !== undefined)
      return { parts: partsOf(pack.abbreviations[plainWord] ?? ''), mended: false };
    const heard = pack.soundAlikes[word];
    if (heard !== undefined && partsOf(heard).every((part) => part.entry.known))
      return { parts: partsOf(heard), mended: true };
    const short = pack.abbreviations[word] ?? openPlural(word, pack);
    if (short !== undefined) return { parts: partsOf(short), mended: false };
    if (word.length > 3 && word.endsWith("'s"))
      return {
        parts: [{ word: word.slice(0, -2), entry: entryOf(word.slice(0, -2)) }, ...partsOf('is')],
        mended: false,
      };
    // "Cardan" is the prop of the plan; a word that stands in for no part is left to itself.
    const other = entry.known && !entry.stop ? undefined : sameThing(word);
    if (other !== undefined) return { parts: partsOf(other), mended: false };
    if (entry.known || !mending) return { parts: [{ word, entry }], mended: false };
    const denied = byDenial(word);
    if (denied !== undefined) return { parts: partsOf(denied), mended: true };
    // One slip from "off" or "out": what it was meant for would turn the report, so it stays a stranger.
    if (pack.code === 'en' && word.length <= 4 && (slipOf(word, 'off') || slipOf(word, 'out')))
      return { parts: [{ word, entry }], mended: false };
    const side = bySide(word);
    if (side !== undefined) return { parts: partsOf(side), mended: true };
    const turned = byTurning(word);
    if (turned !== undefined) return { parts: partsOf(turned), mended: true };
    const bones = bySkeleton(word);
    if (bones !== undefined) return { parts: partsOf(bones), mended: true };
    const begun = byPrefix(word);
    if (begun !== undefined) return { parts: partsOf(begun), mended: true };
    const mended = mend(word);
    if (mended === undefined) return { parts: [{ word, entry }], mended: false };
    return { parts: partsOf(mended.join(' ')), mended: true };
  };

  /** The only word that stands before `next` in the plan and has these letters in their order. */
  const before = (short: string, next: string): string | undefined => {
    const list = own.pairs.get(rootOf(look(next, false).parts[0]?.word ?? next, pack));
    if (!list) return undefined;
    const fits = [...list].filter(
      (word) =>
        word.startsWith(short) ||
        (short.length > 1 &&
          word[0] === short[0] &&
          word.length > short.length &&
          isWithin(short, word)),
    );
    const begun = fits.filter((word) => word.startsWith(short));
    if (begun.length > 0) return begun.length === 1 ? begun[0] : undefined;
    return fits.length === 1 ? fits[0] : undefined;
  };

  const asWritten = keepAnswers<Looked>();
  const asMeant = keepAnswers<Looked>();
  /** Not mending has answers of its own: that a word was mended before must not mend it here. */
  const look = (word: string, mending: boolean): Looked => {
    const kept = mending ? asMeant : asWritten;
    const have = kept.get(word);
    if (have) return have;
    const made = resolve(word, mending);
    if (word.length <= LONGEST_WORD) kept.keep(word, made);
    return made;
  };

  const knowing = keepAnswers<boolean>();
  return {
    pack,
    figures: own.figures,
    before,
    isKnown: (word) => {
      if (word.length > LONGEST_WORD) return false;
      const have = knowing.get(word);
      if (have !== undefined) return have;
      const made = isKnown(word) || respelled(word) !== undefined;
      knowing.keep(word, made);
      return made;
    },
    look,
  };
}

function openPlural(word: string, pack: LanguagePack): string | undefined {
  if (!word.endsWith('s') || word.length < 4) return undefined;
  const one = pack.abbreviations[word.slice(0, -1)];
  return one === undefined || one.includes(' ') ? undefined : `${one}s`;
}
