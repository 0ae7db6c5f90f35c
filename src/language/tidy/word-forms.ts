// The forms of a language's words: what a plural is the plural of, and which verb a form belongs to.
import type { ActionClass, LanguagePack } from '../pack.ts';
import type { VerbForm } from './token.ts';

/** The singular of a word by the language's endings. */
export function rootOf(word: string, pack: LanguagePack): string {
  if (pack.root) return pack.root(word);
  if (word.length < 4 || word.endsWith('ss') || word.endsWith('us')) return word;
  for (const [ending, instead] of pack.plurals) {
    if (word.endsWith(ending)) return word.slice(0, word.length - ending.length) + instead;
  }
  return word;
}

/** A verb by one of its forms. */
export type Verb = { lemma: string; classes: ActionClass[]; forms: VerbForm[] };

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
/** The verbs of a language by every form they have, made once. */
export function verbsOf(pack: LanguagePack): Map<string, Verb> {
  const have = tables.get(pack);
  if (have) return have;
  const made = verbTable(pack);
  tables.set(pack, made);
  return made;
}
