// The words of a language and a plan, each looked up once and mended once.
import type { ActionClass, LanguagePack } from '../pack.ts';
import { MEND_FROM } from '../thresholds.ts';
import { makeSplitter, type Splitter } from './compounds.ts';
import { oneEdit, slipOf } from './edits.ts';
import type { Entry, VerbForm } from './token.ts';

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

/** Words of the open plan, with the roots they are compared by. */
export type PlanWords = ReadonlySet<string>;

/** The singular of a word by the language's endings. */
export function rootOf(word: string, pack: LanguagePack): string {
  if (pack.root) return pack.root(word);
  if (word.length < 4 || word.endsWith('ss') || word.endsWith('us')) return word;
  for (const [ending, instead] of pack.plurals) {
    if (word.endsWith(ending)) return word.slice(0, word.length - ending.length) + instead;
  }
  return word;
}

type Verb = { lemma: string; classes: ActionClass[]; forms: VerbForm[] };

function verbTable(pack: LanguagePack): Map<string, Verb> {
  const table = new Map<string, Verb>();
  const add = (form: string, kind: VerbForm, lemma: string, classes: readonly ActionClass[]) => {
    const row = table.get(form);
    if (!row) table.set(form, { lemma, classes: [...classes], forms: [kind] });
    else if (row.lemma === lemma) {
      if (!row.forms.includes(kind)) row.forms.push(kind);
    } else row.classes.push(...classes.filter((one) => !row.classes.includes(one)));
  };
  for (const verb of pack.verbs) {
    const made = pack.forms(verb.base);
    add(verb.base, 'base', verb.base, verb.classes);
    for (const form of [...(verb.past ?? []), ...(verb.past ? made.past : made.past)])
      add(form, 'past', verb.base, verb.classes);
    for (const form of verb.ing ?? made.ing) add(form, 'ing', verb.base, verb.classes);
    for (const form of made.third) add(form, 'third', verb.base, verb.classes);
  }
  return table;
}

const tables = new WeakMap<LanguagePack, Map<string, Verb>>();
function verbsOf(pack: LanguagePack): Map<string, Verb> {
  const have = tables.get(pack);
  if (have) return have;
  const made = verbTable(pack);
  tables.set(pack, made);
  return made;
}

const LONGEST = 40;
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

/** Pairs no mending may ever bridge: one letter apart and opposite, or one of them changes who did what. */
const NEVER_MEND = new Set(
  'of off on in nit nut not now done gone rear near left lift fit fix fill full seal seat leak leek tight right fitted filled lifted sealed seated refit refill undone unlock lock load loaded head heat hear bolt belt front from loose close hose nose plug plus cap cup clip chip rest test text bar car far war pin pit boot root hub hug tub rub wheel wheal here there where when then them than line fine mine wine like side hide wide rail fail tail mail nail code mode cover lover over oven even ever never lever level cell call ball fall tall wall sold cold told hold bold goal coal pool cool tool fool pump jump dump bump cost most post lost host cast last past fast vast gas has was bus bug bag big dig bid kid did lid hit hot got get set let bet wet yet jet met net pet'.split(
    ' ',
  ),
);

/** Small words that are often run together with their neighbour. */
const GLUED = 'the from with again not then apart and bar two three four five six'.split(' ');

/** What a vocabulary takes from the plan beside its words. */
export type PlanOwn = {
  /** First words of titles. */
  readonly lemmas: ReadonlySet<string>;
  readonly compounds: ReadonlySet<string>;
  /** Root of a word to the words that stand before it in the plan. */
  readonly pairs: ReadonlyMap<string, ReadonlySet<string>>;
  readonly sides: Readonly<Record<string, readonly string[]>>;
  readonly figures: ReadonlySet<number>;
  /** Nouns as the plan writes them. */
  readonly nouns: ReadonlySet<string>;
  readonly split?: Splitter;
};

const NOTHING_OWN: PlanOwn = {
  lemmas: new Set(),
  compounds: new Set(),
  pairs: new Map(),
  sides: {},
  figures: new Set(),
  nouns: new Set(),
};

/** Looks words up, mends them within one edit, opens short forms. Answers are kept, up to a bounded number. */
export function makeVocabulary(
  pack: LanguagePack,
  planWords: PlanWords,
  planVerbs: ReadonlyMap<string, { lemma: string; form: VerbForm }>,
  own: PlanOwn = NOTHING_OWN,
): Vocabulary {
  const { lemmas: planLemmas, compounds } = own;
  const splitCompound = own.split ?? makeSplitter(pack);
  const verbs = verbsOf(pack);
  const stop = new Set(pack.stop);
  const function_ = new Set(
    [
      ...pack.stop,
      ...pack.prepositions,
      ...pack.auxiliaries,
      ...pack.pronouns,
      ...Object.keys(pack.particles),
      ...Object.keys(pack.states),
      ...Object.keys(pack.sides),
      ...Object.keys(own.sides),
      ...Object.keys(pack.numbers),
      ...Object.keys(pack.ordinals),
      ...pack.positionNouns,
      ...pack.stageNouns,
      ...Object.values(pack.cues).flatMap((list) => list.flatMap((one) => one.split(' '))),
    ].filter((word) => word !== ''),
  );
  const common = new Set(pack.common);
  const nouns = new Set(pack.nouns ?? []);
  const meant = new Set(Object.values(own.sides).flat());
  /** Words of sides in which a slip is mended: those that mean a side of the plan. */
  const sideWords = [
    ...new Set([
      ...Object.keys(own.sides),
      ...Object.entries(pack.sides)
        .filter(([word, list]) => word.length > 4 && list.every((side) => meant.has(side)))
        .map(([word]) => word),
    ]),
  ].filter((word) => word.length >= 4);
  const units = new Set(Object.keys(pack.units));
  const sides = new Map(Object.entries(own.sides));
  const cache = new Map<string, Looked>();

  const entries = new Map<string, Entry>();
  const entryOf = (word: string): Entry => {
    const have = entries.get(word);
    if (have) return have;
    const made = makeEntry(word);
    if (entries.size < 20000) entries.set(word, made);
    return made;
  };

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
    const lemma = verb?.lemma ?? verbOfPlan?.lemma;
    return {
      root: plan && planWords.has(word) && !planWords.has(root) ? word : root,
      lemma,
      classes,
      forms,
      plan,
      stop: !plan && stop.has(word),
      side,
      known:
        plan ||
        verb !== undefined ||
        verbOfPlan !== undefined ||
        function_.has(word) ||
        units.has(word),
    };
  };

  const mendable = [
    ...new Set([
      ...planWords,
      ...[...planWords].map((word) => `${word}s`),
      ...verbs.keys(),
      ...planVerbs.keys(),
      ...compounds,
      'cylinder',
      'cylinders',
      'stage',
    ]),
  ].filter((word) => word.length >= MEND_FROM);
  const byFirst = new Map<string, string[]>();
  for (const word of mendable) {
    const list = byFirst.get(word[0] ?? '') ?? [];
    list.push(word);
    byFirst.set(word[0] ?? '', list);
  }
  const known = (word: string) => entryOf(word).known;

  const mend = (word: string): string[] | undefined => {
    if (word.length < MEND_FROM || NEVER_MEND.has(word) || common.has(word)) return undefined;
    const squeezed = word.replace(/(.)\1+/g, '$1$1');
    if (squeezed !== word && known(squeezed)) return [squeezed];
    const near = (byFirst.get(word[0] ?? '') ?? []).filter(
      (other) =>
        !NEVER_MEND.has(other) &&
        endsAlike(word, other) &&
        (oneEdit(word, other) ||
          (word.length > 5 && planWords.has(rootOf(other, pack)) && oneEdit(word, `${other}s`))),
    );
    const inPlan = near.filter((other) => planWords.has(rootOf(other, pack)));
    const best = inPlan.length > 0 ? inPlan : near;
    const first = best[0];
    if (first !== undefined && mayBeOther(word, first)) return undefined;
    if (first !== undefined && sameMeaning(best)) return [first];
    return best.length > 0 ? undefined : unglue(word);
  };

  /** "Huts" may be hubs and nuts, "cuaged" caged and uncaged: where another word is as near, none is taken. */
  const mayBeOther = (word: string, first: string): boolean => {
    if (word.length > first.length && known(`un${first}`)) return true;
    return (
      word.length <= 5 &&
      mendable.some(
        (other) =>
          other[0] !== word[0] &&
          planWords.has(rootOf(other, pack)) &&
          oneEdit(`.${word}`, `.${other}`),
      )
    );
  };

  /** "strpd", "clmps": no vowels left; the only word of the plan or verb that has these consonants in this order. */
  const bySkeleton = (word: string): string | undefined => {
    if (word.length < 3 || /[aeiou\d]/.test(word.slice(1)) || !/^[a-z]+$/.test(word))
      return undefined;
    const found = (byFirst.get(word[0] ?? '') ?? []).filter((other) => {
      const bones = skeleton(other);
      const plural = skeleton(`${other}s`);
      return [bones, plural].some(
        (one) =>
          one.length - word.length <= 1 &&
          one.length >= word.length &&
          one.at(-1) === word.at(-1) &&
          isWithin(word, one),
      );
    });
    const inPlan = found.filter((other) => planWords.has(rootOf(other, pack)));
    const verbsHere = found.filter((other) => planLemmas.has(verbs.get(other)?.lemma ?? ''));
    if (word.length < 4 && inPlan.length === 0) return undefined;
    const best = inPlan.length > 0 ? inPlan : verbsHere.length > 0 ? verbsHere : found;
    return best.length > 0 && sameMeaning(best) ? best[0] : undefined;
  };

  /** A slip of "not", "about", "think", or one of them run together with the next word. */
  const byTurning = (word: string): string | undefined => {
    if (word.length < 3 || common.has(word)) return undefined;
    for (const other of pack.turning ?? []) {
      const near = other.length > 3 || word.length <= 4;
      if (near && slipOf(word, other)) return pack.contractions[other] ?? other;
      const rest3 = word.startsWith(other) ? word.slice(other.length) : '';
      if (other.length < 4 && pack.abbreviations[rest3] === undefined) continue;
      const rest = word.startsWith(other) ? word.slice(other.length) : '';
      if (rest.length > 1 && known(rest)) return `${pack.contractions[other] ?? other} ${rest}`;
      const front = word.endsWith(other) && other.length > 2 ? word.slice(0, -other.length) : '';
      if (front.length > 1 && known(front)) return `${front} ${pack.contractions[other] ?? other}`;
    }
    for (const small of GLUED) {
      const rest = word.startsWith(small) ? word.slice(small.length) : '';
      if (rest.length > 2 && (known(rest) || pack.abbreviations[rest] !== undefined))
        return `${small} ${rest}`;
      const front = word.endsWith(small) ? word.slice(0, -small.length) : '';
      if (front.length > 2 && known(front)) return `${front} ${small}`;
    }
    for (const first of ['is', 'are', 'was', 'has', 'did', 'were']) {
      const rest = word.startsWith(first) ? word.slice(first.length) : '';
      if (/^(the|it|they|all|we|you|she|he)$/.test(rest)) return `${first} ${rest}`;
    }
    return undefined;
  };

  /** "Didnn't", "nott", "nlt": what ends so or is one slip from "not" denies, the error on the safe side. */
  const byDenial = (word: string): string | undefined => {
    if (pack.turning === undefined || common.has(word) || NEVER_MEND.has(word)) return undefined;
    if (word.length > 2 && word.endsWith("'t")) return 'did not';
    if (pack.code === 'en' && word.length >= 7 && word.endsWith('not'))
      return `${word.slice(0, -3)} not`;
    // "Boltsnot", "batterynoot": run together with what it denies.
    for (let cut = 4; pack.code === 'en' && cut <= word.length - 2; cut += 1) {
      const rest = word.slice(cut);
      if (rest.length <= 4 && known(word.slice(0, cut)) && (rest === 'not' || slipOf(rest, 'not')))
        return `${word.slice(0, cut)} not`;
    }
    const short = pack.code === 'en' && word.length >= 2 && word.length <= 4;
    return short && (slipOf(word, 'not') || slipOf(word, 'nto')) ? 'not' : undefined;
  };

  /** "Frnot left": a slip of a side of the plan, so that no other place is taken; "againfront" are two words. */
  const bySide = (word: string): string | undefined => {
    if (word.length < 4 || common.has(word)) return undefined;
    for (const side of sideWords) {
      if (slipOf(word, side)) return side;
      const front = word.endsWith(side) ? word.slice(0, -side.length) : '';
      if (front.length > 1 && (known(front) || sides.has(front))) return `${front} ${side}`;
      const rest = word.startsWith(side) ? word.slice(side.length) : '';
      if (rest.length > 1 && (known(rest) || sides.has(rest))) return `${side} ${rest}`;
    }
    return undefined;
  };

  /** "spig" for spigot: the only word of the plan that begins so. */
  const byPrefix = (word: string): string | undefined => {
    if (pack.nouns !== undefined) return undefined;
    if (word.length < 3 || common.has(word) || NEVER_MEND.has(word)) return undefined;
    const found = [...planWords].filter(
      (other) => other.length >= word.length + 2 && other.startsWith(word),
    );
    return found.length === 1 ? found[0] : undefined;
  };

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
      const planA = planWords.has(rootOf(a, pack));
      const planB = planWords.has(rootOf(b, pack));
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
    if (word.length > LONGEST) return { parts: [{ word, entry: STRANGER }], mended: false };
    const opened = pack.contractions[word];
    if (opened !== undefined) return { parts: partsOf(opened), mended: false };
    const entry = entryOf(word);
    if (entry.plan) return { parts: [{ word, entry }], mended: false };
    if (pack.nouns !== undefined && !verbs.has(word) && !function_.has(word)) {
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

  const look = (word: string, mending: boolean): Looked => {
    const have = cache.get(word);
    if (have) return have;
    const made = resolve(word, mending);
    if (cache.size < 5000 && mending) cache.set(word, made);
    return made;
  };

  const knowing = new Map<string, boolean>();
  return {
    pack,
    figures: own.figures,
    before,
    isKnown: (word) => {
      const have = knowing.get(word);
      if (have !== undefined) return have;
      const made = word.length <= LONGEST && (isKnown(word) || respelled(word) !== undefined);
      if (knowing.size < 5000) knowing.set(word, made);
      return made;
    },
    look,
  };
}

const skeleton = (word: string) =>
  `${word[0] ?? ''}${word.slice(1).replace(/[aeiou]/g, '')}`.replace(/(.)\1+/g, '$1');

/** Whether the letters of one word stand in another in their order. */
function isWithin(small: string, large: string): boolean {
  let at = 0;
  for (const letter of large) if (letter === small[at]) at += 1;
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

function openPlural(word: string, pack: LanguagePack): string | undefined {
  if (!word.endsWith('s') || word.length < 4) return undefined;
  const one = pack.abbreviations[word.slice(0, -1)];
  return one === undefined || one.includes(' ') ? undefined : `${one}s`;
}
