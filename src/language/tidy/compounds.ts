// Compounds: "Sattelschrauben" is read as "Sattel" and "Schraube", where the language lists the nouns they are made of.

import type { LanguagePack } from '../pack.ts';
import { LONGEST_WORD } from '../thresholds.ts';

type Nouns = { readonly byRoot: ReadonlyMap<string, string>; readonly root: (w: string) => string };

const made = new WeakMap<LanguagePack, Nouns>();

function nounsOf(pack: LanguagePack): Nouns | undefined {
  if (!pack.nouns) return undefined;
  const have = made.get(pack);
  if (have) return have;
  const root = pack.root ?? ((word: string) => word);
  const byRoot = new Map<string, string>();
  for (const noun of pack.nouns) {
    byRoot.set(noun, noun);
    if (!byRoot.has(root(noun))) byRoot.set(root(noun), noun);
  }
  const nouns = { byRoot, root };
  made.set(pack, nouns);
  return nouns;
}

const SHORTEST = 6;
const PIECES = 4;

export type Splitter = (word: string) => string[] | undefined;

/**
 * Cuts a word into the nouns it is made of, two or more, each as it is listed; undefined where it is no such
 * compound.
 *
 * @param own nouns of the plan beside those of the language: "Trockner" makes "Trocknerschrauben" two words
 */
export function makeSplitter(pack: LanguagePack, own: ReadonlySet<string> = NO_NOUNS): Splitter {
  const listed = nounsOf(pack);
  if (!listed) return () => undefined;
  const byRoot = new Map(listed.byRoot);
  for (const noun of own) {
    if (noun.length < 4) continue;
    if (!byRoot.has(noun)) byRoot.set(noun, noun);
    if (!byRoot.has(listed.root(noun))) byRoot.set(listed.root(noun), noun);
  }
  const nouns: Nouns = { byRoot, root: listed.root };
  const forms = new Set([...own].flatMap((noun) => [noun, listed.root(noun)]));
  const isOwn = (word: string) => forms.has(word) || forms.has(listed.root(word));
  return (word) => splitCompound(word, nouns, listed, isOwn);
}

const NO_NOUNS: ReadonlySet<string> = new Set();

function splitCompound(
  word: string,
  nouns: Nouns,
  listed: Nouns,
  isOwn: (word: string) => boolean,
): string[] | undefined {
  if (word.length < SHORTEST || word.length > LONGEST_WORD) return undefined;
  // What the plan writes as one noun is still made of those that the language or the plan lists.
  const known = listed.byRoot.has(word) || listed.byRoot.has(listed.root(word));
  if (isOwn(word) && !known) return coverTwo(word, nouns, PIECES);
  if (!nouns || nouns.byRoot.has(word) || nouns.byRoot.has(nouns.root(word))) return undefined;
  const pieces = cover(word, nouns, PIECES);
  return pieces && pieces.length > 1 ? pieces : undefined;
}

/** The longest noun at the beginning first, so that "Federspeicher" is not a "Feder" where it is listed itself. */
function cover(word: string, nouns: Nouns, left: number): string[] | undefined {
  const whole = nounAt(word, nouns);
  if (whole !== undefined) return [whole];
  if (left === 1) return undefined;
  return coverTwo(word, nouns, left);
}

/** Two nouns or more, the first as long as may be. */
function coverTwo(word: string, nouns: Nouns, left: number): string[] | undefined {
  for (let cut = word.length - 2; cut >= 2; cut -= 1) {
    const first = nounAt(word.slice(0, cut), nouns);
    if (first === undefined) continue;
    const rest = cover(word.slice(cut), nouns, left - 1);
    if (rest) return [first, ...rest];
  }
  return undefined;
}

const nounAt = (piece: string, nouns: Nouns) =>
  nouns.byRoot.get(piece) ?? (piece.length > 3 ? nouns.byRoot.get(nouns.root(piece)) : undefined);
