// The words of a plan that name parts, and the verbs that only this plan uses.
import type { Plan } from '../../job/plan.ts';
import type { LanguagePack } from '../pack.ts';
import { makeSplitter, type Splitter } from '../tidy/compounds.ts';
import type { VerbForm } from '../tidy/token.ts';
import { rootOf } from '../tidy/word-forms.ts';
import { wordings, wordsIn, written } from './wordings.ts';

/** Units of a figure in a title: "after 50 to 100 km" names no part. */
const MEASURES: ReadonlySet<string> = new Set('km nm mm deg min minutes hours litres'.split(' '));

/** Words of the plan that count as words of parts, and verbs that only this plan uses. */
export function titleWords(
  plan: Plan,
  pack: LanguagePack,
): {
  words: Set<string>;
  verbs: Map<string, { lemma: string; form: VerbForm }>;
  /** Compounds as the plan writes them, for mending: the words they are made of are in `words`. */
  compounds: Set<string>;
  /** Root of a word of the plan to the words that stand before it: "feed" to "oil". */
  pairs: Map<string, Set<string>>;
  /** Nouns as the plan writes them, where the language writes nouns with a capital letter. */
  nouns: ReadonlySet<string>;
  split: Splitter;
} {
  const stop = new Set([
    ...pack.stop,
    ...pack.prepositions,
    ...pack.auxiliaries,
    ...pack.pronouns,
    ...Object.keys(pack.numbers),
    ...Object.keys(pack.particles),
    ...pack.stageNouns.filter((noun) => noun.length > 4),
  ]);
  const forms = new Map<string, Set<VerbForm>>();
  for (const verb of pack.verbs) {
    const made = pack.forms(verb.base);
    const note = (form: string, kind: VerbForm) =>
      forms.set(form, (forms.get(form) ?? new Set()).add(kind));
    note(verb.base, 'base');
    for (const form of [...(verb.past ?? []), ...made.past]) note(form, 'past');
    for (const form of verb.ing ?? made.ing) note(form, 'ing');
  }
  const all = [...plan.steps, ...(plan.watched ?? [])].flatMap((item) =>
    wordings(item, plan, pack),
  );
  const named = [...Object.values(plan.parts ?? {}), ...Object.values(plan.fluids ?? {})].flatMap(
    (one) => one.also?.[pack.code]?.words ?? [],
  );
  const nouns = nounsIn([...all.map((one) => one.text), ...named], stop, forms, pack);
  const split = makeSplitter(pack, nouns);
  const words = new Set<string>();
  const lines: string[][] = [];
  const compounds = new Set<string>();
  const verbs = new Map<string, { lemma: string; form: VerbForm }>();
  for (const wording of all) {
    // Where nouns have capitals, what has none names no part: "hält Druck", "kalt genug".
    const named = written(wording.text).filter(
      (word) => !pack.nounCapitals || word !== word.toLowerCase() || forms.has(word),
    );
    const list = named
      .map((word) => word.toLowerCase())
      .flatMap((word) => {
        const pieces = split(word);
        if (pieces) compounds.add(word);
        return pieces ?? [word];
      });
    lines.push(list);
    list.forEach((word, index) => {
      const short = pack.abbreviations[word] ?? pack.contractions[word];
      if (
        stop.has(word) ||
        MEASURES.has(word) ||
        word.length < 2 ||
        (pack.contractions[word] !== undefined && word.includes("'"))
      )
        return;
      if (short !== undefined && wording.from !== 'title' && short !== word) {
        for (const one of wordsIn(short))
          if (!stop.has(one) && !forms.get(one)?.has('past')) words.add(rootOf(one, pack));
        return;
      }
      if (wording.from === 'words' && index > 0 && pack.states[word] !== undefined) return;
      const form = forms.get(word);
      // "Mounting bolts", "charging cable": before its noun it says which.
      const next = list[index + 1];
      const says =
        form?.has('ing') === true &&
        !form.has('past') &&
        next !== undefined &&
        !stop.has(next) &&
        pack.code === 'en' &&
        (index > 0 || wording.from === 'report');
      if (form && !form.has('base') && (form.has('past') || form.has('ing')) && !says) return;
      if (pack.verbLast && form?.has('base') && word.endsWith('n') && list.length > 1) return;
      if (
        form?.has('base') &&
        index === 0 &&
        list.length > 1 &&
        wording.from !== 'report' &&
        !(
          wording.from === 'words' &&
          (pack.particles[list[1] ?? ''] !== undefined ||
            pack.states[list[1] ?? ''] !== undefined ||
            forms.get(list[1] ?? '')?.has('past'))
        )
      )
        return;
      if (
        form?.has('base') &&
        index > 0 &&
        list.length > 2 &&
        wording.from === 'title' &&
        (list[index - 1] === 'and' || list[index - 1] === 'und') &&
        index < list.length - 1
      )
        return;
      if (!form && wording.from === 'words' && pack.code === 'en' && /[^e]ed$/.test(word)) {
        verbs.set(word, { lemma: word.replace(/ed$/, ''), form: 'past' });
        return;
      }
      if (
        !form &&
        index === 0 &&
        wording.from === 'title' &&
        /^(the|a|an|all|both|each|every|any)$/.test(list[1] ?? '')
      ) {
        const made = pack.forms(word);
        verbs.set(word, { lemma: word, form: 'base' });
        for (const past of made.past) verbs.set(past, { lemma: word, form: 'past' });
        for (const ing of made.ing) verbs.set(ing, { lemma: word, form: 'ing' });
        return;
      }
      words.add(rootOf(word, pack));
    });
  }
  const pairs = new Map<string, Set<string>>();
  for (const list of lines) {
    for (let i = 1; i < list.length; i += 1) {
      const [before = '', word = ''] = [list[i - 1], list[i]];
      const root = rootOf(word, pack);
      // The down of "the down pipe" is a part of its name.
      const named = pack.particles[before] !== undefined && /^(the|a|new)$/.test(list[i - 2] ?? '');
      if (!words.has(root) || before.length < 3) continue;
      if (!named && !words.has(rootOf(before, pack))) continue;
      pairs.set(root, (pairs.get(root) ?? new Set()).add(before));
    }
  }
  return { words, verbs, compounds, pairs, nouns, split };
}

/** Words written with a capital letter in the plan that are no verb: "Trockner", "Flansch". */
function nounsIn(
  texts: readonly string[],
  stop: ReadonlySet<string>,
  forms: ReadonlyMap<string, ReadonlySet<VerbForm>>,
  pack: LanguagePack,
): ReadonlySet<string> {
  const nouns = new Set<string>();
  if (pack.nounCapitals !== true) return nouns;
  for (const word of texts.flatMap(written)) {
    const small = word.toLowerCase();
    if (small === word || stop.has(small) || forms.has(small) || ADJECTIVE.test(small)) continue;
    if (pack.abbreviations[small] === undefined && pack.contractions[small] === undefined)
      nouns.add(small);
  }
  return nouns;
}

/** Words that a title may begin with beside its noun. */
const ADJECTIVE =
  /^(neue|alte|zweite|obere|untere|linke|rechte|beide|kalte|warme|ohne|auf)[nrsm]?$/;
