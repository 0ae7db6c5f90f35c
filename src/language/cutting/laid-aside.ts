// Where a part lies or sits says what was done with it: "on the bench", "in the skip", "in place".
import type { ActionClass, LanguagePack } from '../pack.ts';
import type { Token } from '../tidy/token.ts';

/** A new part that lies somewhere has yet to be fitted, and no one has taken off what is on order. */
const NEW =
  /^(new|newone|replacement|spare|fresh|reconditioned|neue?[rnms]?|ersatz\w*|delivered|geliefert)$/;

/** What sits, waits or is ready there may be what is to go on. */
const WAITS = /^(sat|sits|sitting|waiting|ready|there|bereit|wartet)$/;

/** Words that tell where it is now. */
const TELLS =
  /^(is|are|lies|lie|lying|now|down|off|out|away|liegt|liegen|steht|ab|raus|runter|weg)$/;

const ARTICLE = /^(the|a|my|our|its|his|der|dem|die|einer|einem|meiner)$/;

/** The place behind a preposition where parts are laid, with where it ends. */
function placeBehind(
  tokens: readonly Token[],
  at: number,
  to: number,
  pack: LanguagePack,
): number | undefined {
  const places = pack.laid?.[tokens[at]?.word ?? ''];
  if (!places) return undefined;
  const k = ARTICLE.test(tokens[at + 1]?.word ?? '') ? at + 2 : at + 1;
  const token = tokens[k];
  return k < to && token?.entry?.plan !== true && places.includes(token?.word ?? '')
    ? k + 1
    : undefined;
}

export type Laid = {
  readonly classes: readonly ActionClass[];
  readonly to: number;
  /** A part of the plan is said to be there, and not a new one. "Disc on the floor" alone tells too little. */
  readonly told: boolean;
};

/** Reads a place where parts are laid that came off, from its preposition on. */
export function laidAside(
  tokens: readonly Token[],
  at: number,
  from: number,
  to: number,
  pack: LanguagePack,
): Laid | undefined {
  const end = placeBehind(tokens, at, to, pack);
  if (end === undefined) return undefined;
  if (WAITS.test(tokens[at - 1]?.word ?? '')) return undefined;
  let named = false;
  let told = from > 0;
  for (let k = from; k < at; k += 1) {
    const token = tokens[k];
    const entry = token?.entry;
    if (NEW.test(token?.word ?? '')) return undefined;
    if (TELLS.test(token?.word ?? '')) told = true;
    if (entry?.plan) named = true;
    // "Box of doughnuts is on the bench": another thing lies there.
    else if (entry && !entry.known && !entry.stop && (token?.word.length ?? 0) > 2)
      return undefined;
  }
  const inside = /^in$/.test(tokens[at]?.word ?? '');
  return {
    classes: inside ? ['remove', 'drain'] : ['remove', 'lower'],
    to: end,
    told: named && told,
  };
}

/** "Pump is in place", "hose in position": what a part named before it came to. */
export function inPlace(tokens: readonly Token[], at: number, from: number, to: number): boolean {
  if (tokens[at]?.word !== 'in' || at + 1 >= to) return false;
  if (!/^(place|position|situ)$/.test(tokens[at + 1]?.word ?? '')) return false;
  for (let k = from; k < at; k += 1) if (tokens[k]?.entry?.plan) return true;
  return false;
}

/** The places of a piece where parts are laid, from preposition to end: no talk of another vehicle. */
export function laidIn(
  tokens: readonly Token[],
  from: number,
  to: number,
  pack: LanguagePack,
): readonly { readonly from: number; readonly to: number }[] {
  const out: { from: number; to: number }[] = [];
  for (let at = from; at < to; at += 1) {
    if (pack.laid?.[tokens[at]?.word ?? ''] === undefined) continue;
    const laid = laidAside(tokens, at, from, to, pack);
    if (laid) out.push({ from: at, to: laid.to });
  }
  return out;
}
