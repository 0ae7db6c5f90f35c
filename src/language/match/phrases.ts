// The steps of a plan as phrases: a family of action and the words of a part. Made from titles, from the words a
// controller wrote, and from what a step asks to be reported.
import type { Ask, Step, Watched } from '../../../shared/plan.ts';
import type { Plan } from '../../job/plan.ts';
import type { ActionClass, LanguagePack } from '../pack.ts';
import { makeSplitter, type Splitter } from '../tidy/compounds.ts';
import type { VerbForm } from '../tidy/token.ts';
import type { Vocabulary } from '../tidy/vocabulary.ts';
import { rootOf } from '../tidy/word-forms.ts';
import { kinship } from './kinship.ts';

export type Phrase = {
  readonly classes: readonly ActionClass[];
  readonly lemmas: readonly string[];
  /** Root of each word of the part, with 1 for the part itself and less for what it stands at or on. */
  readonly parts: ReadonlyMap<string, number>;
  readonly words: readonly string[];
  /** Roots of the words that carry meaning, for finding the phrase again with small words between. */
  readonly roots: readonly string[];
  /** Has a verb in the past, a particle or a state: said alone it is a report. */
  readonly reports: boolean;
  /** The word that names the part: the nut in "hub nut". */
  readonly head: string | undefined;
  readonly from: 'title' | 'words' | 'report';
  /** None of its families is kin to the title's: other words of the family do not mean the step. */
  readonly byLetter?: true;
};

export type StepPhrases = {
  readonly id: string;
  readonly title: string;
  readonly step?: Step;
  readonly watched?: Watched;
  readonly phrases: readonly Phrase[];
};

type Wording = { text: string; from: Phrase['from']; classes?: readonly ActionClass[] };

const written = (text: string) => text.match(/[\p{L}\p{M}']+/gu) ?? [];
const wordsIn = (text: string) => written(text.toLowerCase());

function wordings(item: Step | Watched, plan: Plan, pack: LanguagePack): Wording[] {
  const own = (plan.language ?? 'en') === pack.code;
  const also = item.also?.[pack.code];
  const list: Wording[] = [];
  if (own) list.push({ text: item.title, from: 'title' });
  else if (also?.title) list.push({ text: also.title, from: 'title' });
  if (own) for (const text of item.words ?? []) list.push({ text, from: 'words' });
  for (const text of also?.words ?? []) list.push({ text, from: 'words' });
  if ('report' in item)
    for (const ask of item.report ?? []) list.push(...askWordings(ask, plan, pack, own));
  if ('renew' in item) {
    for (const part of item.renew ?? []) {
      for (const text of own ? [part.part, ...(part.words ?? [])] : [])
        list.push({ text, from: 'report', classes: ['renew', 'fit'] });
    }
  }
  return list.flatMap((wording) => [wording, ...synonyms(wording, plan, pack, own)]);
}

function askWordings(ask: Ask, plan: Plan, pack: LanguagePack, own: boolean): Wording[] {
  const named = (
    texts: readonly (string | undefined)[],
    classes: readonly ActionClass[],
  ): Wording[] =>
    texts.flatMap((text) =>
      text === undefined ? [] : [{ text, from: 'report' as const, classes }],
    );
  /** The other language's words for a part that the plan names among its parts. */
  const inOther = (name: string | undefined): readonly string[] => {
    const key = (name ?? '').toLowerCase();
    const found = Object.entries(plan.parts ?? {}).find(
      ([part]) => part === key || `${part}s` === key || part === `${key}s`,
    );
    return found?.[1].also?.[pack.code]?.words ?? [];
  };
  switch (ask.kind) {
    case 'quantity':
      return own
        ? named([ask.of, ...(ask.words ?? [])], ['measure', 'check', 'adjust'])
        : named(inOther(ask.of), ['measure', 'check', 'adjust']);
    case 'drained':
    case 'filled': {
      const fluid = plan.fluids?.[ask.fluid];
      const also = fluid?.also?.[pack.code];
      const names = own ? [fluid?.title ?? ask.fluid, ...(fluid?.words ?? [])] : [];
      return named(
        [...names, also?.title, ...(also?.words ?? [])],
        [ask.kind === 'drained' ? 'drain' : 'fill'],
      );
    }
    case 'tightening':
      return named(own ? [ask.of] : inOther(ask.of), ['tighten']);
    case 'loosening':
      return named(own ? [ask.of] : inOther(ask.of), ['loosen']);
    case 'off':
      return named(own ? [ask.part, ...(ask.words ?? [])] : inOther(ask.part), [
        'remove',
        'disconnect',
      ]);
    case 'on':
      return named(own ? [ask.part, ...(ask.words ?? [])] : inOther(ask.part), ['fit', 'connect']);
    case 'code':
      return own
        ? named([ask.of.replaceAll('-', ' ')], [ask.do === 'read' ? 'read' : 'enter'])
        : [];
    case 'clearance':
      return own
        ? named(
            [...new Set(ask.valves.map((one) => one.valve.replace(/\d+/g, ' ')))],
            ['measure', 'check', 'adjust'],
          )
        : [];
    default:
      return [];
  }
}

/** The same wording with another word for a part or fluid that the plan names. */
function synonyms(wording: Wording, plan: Plan, pack: LanguagePack, own: boolean): Wording[] {
  const words = written(wording.text);
  const roots = words.map((word) => rootOf(word.toLowerCase(), pack));
  const out: Wording[] = [];
  const offer = (name: string, others: readonly string[]) => {
    const key = wordsIn(name).map((word) => rootOf(word, pack));
    const at = roots.findIndex((_, i) => key.every((root, k) => roots[i + k] === root));
    if (key.length === 0 || at < 0) return;
    for (const other of others) {
      if (other === name) continue;
      const made = [...words.slice(0, at), ...written(other), ...words.slice(at + key.length)];
      out.push({ ...wording, text: made.join(' ') });
    }
  };
  for (const [name, part] of Object.entries(plan.parts ?? {})) {
    const also = part.also?.[pack.code]?.words ?? [];
    if (own) offer(name, [...(part.words ?? []), ...also]);
    else
      for (const word of also) offer(word, [...also, ...[name, ...(part.words ?? [])].map(asNoun)]);
  }
  for (const [id, fluid] of Object.entries(plan.fluids ?? {})) {
    const also = fluid.also?.[pack.code];
    const others = [...(own ? (fluid.words ?? []) : []), ...(also?.words ?? [])];
    if (!own) {
      const names = [...new Set([...(also?.title ? [also.title] : []), ...others])];
      const foreign = [fluid.title, ...(fluid.words ?? [])].map(asNoun);
      for (const word of names) offer(word, [...names, ...foreign]);
      continue;
    }
    offer(fluid.title, others);
    if (wordsIn(fluid.title).join(' ') !== id.replaceAll('-', ' '))
      offer(id.replaceAll('-', ' '), [fluid.title, ...others]);
  }
  return out.slice(0, own ? 12 : 20);
}

/** A word of the plan's own language among words of another, "Injector raus": written as a noun. */
const asNoun = (name: string) => name.replace(/(^| )\p{Ll}/gu, (letter) => letter.toUpperCase());

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

/** Every step and watched act of the plan with its phrases in one language. */
export function makePhrases(plan: Plan, pack: LanguagePack, vocabulary: Vocabulary): StepPhrases[] {
  const made = (item: Step | Watched) => {
    const phrases = wordings(item, plan, pack).map((wording) =>
      phraseOf(wording, pack, vocabulary),
    );
    const title = phrases
      .filter((phrase) => phrase.from === 'title')
      .flatMap((phrase) => phrase.classes);
    return phrases.map((phrase) => (phrase.from === 'words' ? keepKin(phrase, title) : phrase));
  };
  return [
    ...plan.steps.map((step) => ({ id: step.id, title: step.title, step, phrases: made(step) })),
    ...(plan.watched ?? []).map((watched) => ({
      id: watched.id,
      title: watched.title,
      watched,
      phrases: made(watched),
    })),
  ];
}

/**
 * Of the families a controller's words may mean, those that are kin to the title's; all where none is: then "rail down"
 * for relieving it says so by its letter alone.
 */
function keepKin(phrase: Phrase, title: readonly ActionClass[]): Phrase {
  const kin = phrase.classes.filter((one) => title.some((other) => kinship(one, other) >= 0.5));
  if (kin.length > 0) return { ...phrase, classes: kin };
  return title.length > 0 && phrase.classes.length > 0 ? { ...phrase, byLetter: true } : phrase;
}

const SECOND_PLACE = 0.45;

function phraseOf(wording: Wording, pack: LanguagePack, vocabulary: Vocabulary): Phrase {
  const tokens = wordsIn(wording.text).flatMap((word) => vocabulary.look(word, false).parts);
  const classes: ActionClass[] = [...(wording.classes ?? [])];
  const lemmas: string[] = [];
  const parts = new Map<string, number>();
  let head: string | undefined;
  const words = tokens.map((token) => token.word);
  let weight = 1;
  let verbs = 0;
  tokens.forEach(({ word, entry }, index) => {
    const forms = entry.forms;
    const before = words[index - 1];
    const next = tokens[index + 1];
    const nounLeads =
      wording.from === 'words' &&
      next !== undefined &&
      (pack.particles[next.word] !== undefined ||
        pack.states[next.word] !== undefined ||
        next.entry.forms.includes('past'));
    const leads =
      (index === 0 && !nounLeads) ||
      (pack.verbLast === true && forms.includes('base') && word.endsWith('n')) ||
      ((before === 'and' || before === 'und') && verbs > 0 && index < tokens.length - 1);
    const moved =
      forms.includes('past') && !(forms.includes('base') && index === 0 && tokens.length === 1);
    const verb =
      forms.length > 0 &&
      ((leads && forms.includes('base') && wording.from !== 'report' && tokens.length > 1) ||
        moved ||
        (forms.includes('ing') && index === 0 && wording.from !== 'report'));
    if (verb) {
      verbs += 1;
      const pair =
        entry.lemma === undefined
          ? undefined
          : pack.phrasal[`${entry.lemma} ${words[index + 1] ?? ''}`];
      classes.push(
        ...(pair === undefined ? entry.classes : typeof pair === 'string' ? [pair] : pair),
      );
      if (entry.lemma !== undefined) lemmas.push(entry.lemma);
      if (entry.plan && !leads) parts.set(entry.root, 0.5);
      return;
    }
    const particle = pack.particles[word];
    if (
      particle &&
      index > 0 &&
      index === tokens.length - 1 &&
      verbs === 0 &&
      wording.from === 'words'
    ) {
      classes.push(...particle);
      return;
    }
    const state = pack.states[word];
    if (state && wording.from === 'words' && index > 0 && !entry.plan) {
      classes.push(...state);
      return;
    }
    if (pack.prepositions.includes(word) && parts.size > 0) {
      weight = SECOND_PLACE;
      return;
    }
    if (entry.stop || (entry.side !== undefined && !entry.plan) || word.length < 2) return;
    if (entry.plan) {
      parts.set(entry.root, Math.max(weight, parts.get(entry.root) ?? 0));
      if (weight === 1) head = entry.root;
    }
    if (forms.includes('base') && wording.from !== 'report') {
      // A noun that is also a verb, such as the check in "leak check", says the family of the step.
      if (verbs === 0 && index === tokens.length - 1) classes.push(...entry.classes);
    }
  });
  const reports =
    wording.from === 'words' &&
    tokens.some(
      ({ word, entry }) =>
        pack.particles[word] !== undefined ||
        pack.states[word] !== undefined ||
        entry.forms.includes('past') ||
        (entry.forms.includes('ing') && !entry.plan) ||
        word === 'no',
    );
  const roots = tokens
    .filter(
      ({ word, entry }) =>
        !entry.stop || pack.particles[word] !== undefined || word === 'no' || word === 'not',
    )
    .map(({ entry }) => entry.root);
  return {
    classes: [...new Set(classes)],
    lemmas,
    parts,
    words,
    roots,
    reports,
    head,
    from: wording.from,
  };
}
