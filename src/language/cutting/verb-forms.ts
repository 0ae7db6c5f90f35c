// Which form a verb has where it stands, and the family that its particle gives it.
import type { Cue } from '../cue-table.ts';
import type { Tongue } from '../lexicon.ts';
import type { ActionClass } from '../pack.ts';
import type { Token } from '../tidy/token.ts';

/** "Old bearing I press out": who has no past tense at hand says the object first. "Now" makes it what goes on. */
export function toldAsPresent(
  tokens: readonly Token[],
  i: number,
  from: number,
  to: number,
  cues: readonly Cue[],
): 'past' | 'ing' | undefined {
  if (i - 2 < from || !/^(i|we)$/.test(tokens[i - 1]?.word ?? '')) return undefined;
  if (/^(is|are|was|were|have|has|need)$/.test(tokens[i + 1]?.word ?? '')) return undefined;
  const open = cues.some((cue) =>
    /^(not|not-yet|future|later|next|condition|wish|doubt|cannot|question-word)$/.test(cue.name),
  );
  if (open) return undefined;
  for (let k = i + 1; k < to; k += 1)
    if (/^(now|jetzt|still)$/.test(tokens[k]?.word ?? '')) return 'ing';
  return 'past';
}

/** A plan's noun that is also a verb stays a noun unless an object follows it: "clamp stage 2", "drain the coolant". */
export function nounHere(tokens: readonly Token[], i: number, from: number): boolean {
  const next = tokens[i + 1];
  if (next === undefined || next.kind !== 'word') return true;
  if (/^(the|it|them|all|both|my|new|old|a|an|this|that|these|up|every|each)$/.test(next.word))
    return i > from && tokens[i - 1]?.entry?.plan === true;
  const before = tokens[i - 1]?.word ?? '';
  if (/^(to|will|not|can|should|please|must|would|could|i|we)$/.test(before)) return false;
  return true;
}

/** What stands behind it tells where or how it is. */
export function isToldOf(tokens: readonly Token[], i: number): boolean {
  const [next, then] = [tokens[i + 1], tokens[i + 2]];
  if (/^(is|are|was|has|not)$/.test(next?.word ?? '')) return true;
  if (/^(new|old)$/.test(next?.word ?? ''))
    return /^(is|are|in|out|on|off|inside)$/.test(then?.word ?? '');
  return (
    /^(up|on|off|in|out|down|back)$/.test(next?.word ?? '') &&
    /^(finger|hand|and|now|again|but|not|with)$/.test(then?.word ?? '')
  );
}

export function isLead(
  tokens: readonly Token[],
  i: number,
  from: number,
  pronouns: readonly string[],
): boolean {
  // "Prop up finger tight", "pin new is inside": a thing that leads is told of.
  if (i === from) return !(tokens[i]?.entry?.plan === true && isToldOf(tokens, i));
  const before = tokens[i - 1];
  if (before?.kind !== 'word') return before?.kind === 'mark';
  return (
    pronouns.includes(before.word) ||
    /^(to|will|can|not|should|please|must|would|could|do|does|did|just|and|then)$/.test(before.word)
  );
}

type Pairs = { readonly firsts: ReadonlySet<string>; readonly seconds: ReadonlySet<string> };

const pairsMade = new WeakMap<Tongue['pack']['phrasal'], Pairs>();

/** The words that begin and that end the pairs of a language, made once: most verbs are in none. */
function pairsOf(phrasal: Tongue['pack']['phrasal']): Pairs {
  const have = pairsMade.get(phrasal);
  if (have) return have;
  const firsts = new Set<string>();
  const seconds = new Set<string>();
  for (const pair of Object.keys(phrasal)) {
    const words = pair.split(' ');
    for (let k = 1; k < words.length; k += 1) {
      firsts.add(words.slice(0, k).join(' '));
      seconds.add(words.slice(k).join(' '));
    }
  }
  const made = { firsts, seconds };
  pairsMade.set(phrasal, made);
  return made;
}

export function withParticle(
  tokens: readonly Token[],
  i: number,
  to: number,
  lemma: string,
  classes: readonly ActionClass[],
  phrasal: Tongue['pack']['phrasal'],
  reach: number,
): readonly ActionClass[] {
  const pairs = pairsOf(phrasal);
  for (let k = Math.max(0, i - reach); reach > 5 && pairs.seconds.has(lemma) && k < i; k += 1) {
    const pair = phrasal[`${tokens[k]?.word ?? ''} ${lemma}`];
    if (pair) return typeof pair === 'string' ? [pair] : pair;
  }
  if (!pairs.firsts.has(lemma)) return classes;
  for (let k = i + 1; k < Math.min(to, i + reach); k += 1) {
    if (!pairs.seconds.has(tokens[k]?.word ?? '')) continue;
    const pair = phrasal[`${lemma} ${tokens[k]?.word ?? ''}`];
    if (pair) return typeof pair === 'string' ? [pair] : pair;
  }
  return classes;
}

/** "Die Pratzen waren fest", "sind fest gewesen": how tight it was before is no report that it was tightened. */
export const wasSo = (
  tokens: readonly Token[],
  i: number,
  from: number,
  to: number,
  state: readonly ActionClass[] | undefined,
): boolean => {
  if (tokens[i - 1]?.word === 'were') return true;
  const tight = state?.some((one) => one === 'tighten' || one === 'loosen') === true;
  const before = tokens.slice(from, i).some((token) => token.word === 'were');
  return tight && (before || tokens.slice(i, to).some((token) => token.word === 'gewesen'));
};

/** Prefixes that belong to a verb before them, "ziehe die Pratzen an", are no reports of their own. */
export const withoutPrefixes = (
  tokens: readonly Token[],
  places: readonly number[],
  verbs: readonly { readonly at: number; readonly lemma: string }[],
  pack: Tongue['pack'],
): readonly number[] =>
  places.filter(
    (i) =>
      !verbs.some(
        (verb) =>
          verb.at < i && pack.phrasal[`${verb.lemma} ${tokens[i]?.word ?? ''}`] !== undefined,
      ),
  );
