// Compounds: "Sattelschrauben" is read as "Sattel" and "Schraube", where the language lists the nouns they are made of.
import type { LanguagePack } from '../pack.ts';

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
const LONGEST = 40;
const PIECES = 4;

/** The nouns a word is made of, two or more, each as the language lists it; undefined where it is no such compound. */
export function splitCompound(word: string, pack: LanguagePack): string[] | undefined {
  if (word.length < SHORTEST || word.length > LONGEST) return undefined;
  const nouns = nounsOf(pack);
  if (!nouns || nouns.byRoot.has(word) || nouns.byRoot.has(nouns.root(word))) return undefined;
  const pieces = cover(word, nouns, PIECES);
  return pieces && pieces.length > 1 ? pieces : undefined;
}

/** The longest noun at the beginning first, so that "Federspeicher" is not a "Feder" where it is listed itself. */
function cover(word: string, nouns: Nouns, left: number): string[] | undefined {
  const whole = nounAt(word, nouns);
  if (whole !== undefined) return [whole];
  if (left === 1) return undefined;
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
