// Words that were mended and may have been another: too short, as near to another word, or deciding of places.
import type { Message } from '../message.ts';
import { isWithin } from '../tidy/mending.ts';
import type { Word } from './explained.ts';
import { slipsBetween } from './near-words.ts';
import { nearTo, type TellingWords } from './telling-words.ts';

/** "Strpd", "prp": a word without its vowels is a short form and no slip. */
const isSkeleton = (raw: string, word: string): boolean =>
  !/[aeiouäöü]/.test(raw.slice(1)) && isWithin(raw, word);

/** "Dianed" may be "dialled" and may be "drained": another word of the plan as near, or one where this is none. */
function isTorn(token: Word, raw: string, telling: TellingWords, message: Message): boolean {
  const { vocabulary, pack } = message.tongue;
  const entry = token.entry;
  if (pack.soundAlikes[raw] !== undefined || entry?.stop || isSkeleton(raw, token.word))
    return false;
  const own = telling.naming[token.word.length]?.includes(token.word) === true;
  const chosen = slipsBetween(raw, token.word, 2);
  const differs = (one: string) => {
    const other = vocabulary.look(one, false).parts[0]?.entry;
    if (one === token.word || other?.root === entry?.root) return false;
    if (entry?.side !== undefined) return other?.side !== undefined && !isSameSide(one, token.word);
    return entry?.lemma === undefined || other?.lemma !== entry.lemma;
  };
  const isSameSide = (a: string, b: string) =>
    pack.sides[a]?.join() === pack.sides[b]?.join() || a.startsWith(b) || b.startsWith(a);
  // "Gearo" may be "gear" and may be cut short of "gearbox".
  const longer = (one: string) => one.length > raw.length && one.startsWith(raw.slice(0, -1));
  const parts = message.tokens.filter((one) => one.from === token.from);
  const particle = parts.length > 1 && pack.particles[token.word] !== undefined;
  return (
    nearTo(raw, telling.naming, own ? Math.min(chosen, 2) : 2).some(differs) ||
    (particle && nearTo(token.word, telling.naming, 1).some(differs)) ||
    (raw.length >= 5 && telling.naming.some((list) => list.some((w) => longer(w) && differs(w)))) ||
    (!own && chosen > 0 && nearTo(raw, telling.turning, 1).some((one) => one !== token.word))
  );
}

/** A word that was mended and may have been another: too short, torn, or where it decides of places. */
export function isGuess(
  at: number,
  message: Message,
  telling: TellingWords,
  leftOut: boolean,
): boolean {
  const token = message.tokens[at];
  const raw = token?.mended;
  if (!token || raw === undefined) return false;
  if (leftOut) return true;
  // "Kühl" in the plan's own words is no slip, whatever form it was taken for.
  if (telling.naming[raw.length]?.includes(raw)) return false;
  if (raw.length <= 3 && nearTo(raw, telling.joining, 1).length > 0) return true;
  const others = message.tokens.some(
    (one) => one !== token && one.entry?.plan && one.entry.side === undefined && !one.mended,
  );
  if (raw.length <= 4 && token.entry?.plan && !others && !isSkeleton(raw, token.word)) return true;
  const next = message.tokens[at + 1];
  if (
    raw.length <= 5 &&
    next?.entry?.side !== undefined &&
    token.entry?.side === undefined &&
    !token.entry?.plan &&
    !token.entry?.forms.includes('past') &&
    token.from !== next.from
  )
    return true;
  return isTorn(token, raw, telling, message);
}
