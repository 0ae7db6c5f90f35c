// What a plan says of a step in one language: its title, the words written for it, what it asks, by every name of a part.
import type { Ask, Step, Watched } from '../../../shared/plan.ts';
import type { Plan } from '../../job/plan.ts';
import type { ActionClass, LanguagePack } from '../pack.ts';
import { rootOf } from '../tidy/word-forms.ts';

export type Wording = {
  text: string;
  from: 'title' | 'words' | 'report';
  classes?: readonly ActionClass[];
};

export const written = (text: string) => text.match(/[\p{L}\p{M}']+/gu) ?? [];
export const wordsIn = (text: string) => written(text.toLowerCase());

/** Every wording of a step or watched act. */
export function wordings(item: Step | Watched, plan: Plan, pack: LanguagePack): Wording[] {
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
