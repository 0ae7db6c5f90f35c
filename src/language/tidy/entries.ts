// What each word of a language and a plan is: part, verb, small word, side; found once for each word.
import type { ActionClass, LanguagePack } from '../pack.ts';
import { keepAnswers } from './kept-answers.ts';
import type { PlanOwn, PlanVerbs, PlanWords } from './plan-own.ts';
import type { Entry, VerbForm } from './token.ts';
import { rootOf, verbsOf } from './word-forms.ts';

export type Entries = {
  readonly entryOf: (word: string) => Entry;
  readonly isKnown: (word: string) => boolean;
  /** Small words of the language: prepositions, numbers, sides, and every word that a sign is made of. */
  readonly isSmall: (word: string) => boolean;
};

/** Small words of a language that are the same for every plan. */
function smallWords(pack: LanguagePack): ReadonlySet<string> {
  const have = smallOf.get(pack);
  if (have) return have;
  const made = new Set(
    [
      ...pack.stop,
      ...pack.prepositions,
      ...pack.auxiliaries,
      ...pack.pronouns,
      ...Object.keys(pack.particles),
      ...Object.keys(pack.states),
      ...Object.keys(pack.sides),
      ...Object.keys(pack.numbers),
      ...Object.keys(pack.ordinals),
      ...pack.positionNouns,
      ...pack.stageNouns,
      ...Object.values(pack.cues).flatMap((list) => list.flatMap((one) => one.split(' '))),
    ].filter((word) => word !== ''),
  );
  smallOf.set(pack, made);
  return made;
}

const smallOf = new WeakMap<LanguagePack, ReadonlySet<string>>();

/** The entries of a language and a plan, each made when it is first asked for and kept, up to a bounded number. */
export function makeEntries(
  pack: LanguagePack,
  planWords: PlanWords,
  planVerbs: PlanVerbs,
  own: PlanOwn,
): Entries {
  const verbs = verbsOf(pack);
  const stop = new Set(pack.stop);
  const nouns = new Set(pack.nouns ?? []);
  const sides = new Map(Object.entries(own.sides));
  const small = smallWords(pack);
  const kept = keepAnswers<Entry>();

  const isSmall = (word: string) => small.has(word) || (word !== '' && sides.has(word));

  const makeEntry = (word: string): Entry => {
    const verbOfPlan = planVerbs.get(word);
    const verb = verbs.get(word);
    const root = rootOf(word, pack);
    // "starten" shares its root with "Start" but is not the part.
    const onlyVerb =
      pack.verbLast === true && verb !== undefined && !nouns.has(word) && !own.nouns.has(word);
    const plan = !onlyVerb && (planWords.has(root) || planWords.has(word));
    const side = pack.sides[word] ?? sides.get(word);
    const state = pack.states[word];
    const classes: ActionClass[] = [...(verb?.classes ?? [])];
    if (verbOfPlan) classes.push(`own:${verbOfPlan.lemma}`);
    if (state && !verb) classes.push(...state);
    const forms: VerbForm[] = [...(verb?.forms ?? [])];
    if (verbOfPlan && !forms.includes(verbOfPlan.form)) forms.push(verbOfPlan.form);
    return {
      root: plan && planWords.has(word) && !planWords.has(root) ? word : root,
      lemma: verb?.lemma ?? verbOfPlan?.lemma,
      classes,
      forms,
      plan,
      stop: !plan && stop.has(word),
      side,
      known:
        plan ||
        verb !== undefined ||
        verbOfPlan !== undefined ||
        isSmall(word) ||
        Object.hasOwn(pack.units, word),
    };
  };

  const entryOf = (word: string): Entry => {
    const have = kept.get(word);
    if (have) return have;
    const made = makeEntry(word);
    kept.keep(word, made);
    return made;
  };

  return { entryOf, isKnown: (word) => entryOf(word).known, isSmall };
}
