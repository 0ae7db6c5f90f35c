// A report that another act of the same message stands against: the figure of a thing not done, a part only tied up.
import type { Act } from '../../shared/reading.ts';
import type { Lexicon } from './lexicon.ts';
import type { HeldWords } from './pack.ts';

const UNIT_ONLY = /^[\s\d.,;-]*(?:bar|nm|mm|deg|°c?|c|l|ltr|litres?|psi|kpa|v|a|%)?\s*$/i;

/** Words of how a part is held, as patterns over the languages of a lexicon. */
export type HeldPatterns = { readonly [K in keyof HeldWords]: RegExp };

const made = new WeakMap<Lexicon, HeldPatterns>();

const NEVER = /(?!)/;

/** Any of the words by itself; a star stands for any ending. */
function patternOf(words: readonly string[], atStart: boolean): RegExp {
  if (words.length === 0) return NEVER;
  const any = words.map((word) => word.replace(/\*$/, '\\p{L}*').replaceAll(' ', '[- ]')).join('|');
  return new RegExp(`${atStart ? '^' : '(?<!\\p{L})'}(?:${any})(?!\\p{L})`, 'iu');
}

/** The patterns of a lexicon, made once. */
export function heldPatterns(lexicon: Lexicon): HeldPatterns {
  const have = made.get(lexicon);
  if (have) return have;
  const all = (key: keyof HeldWords) =>
    lexicon.tongues.flatMap((one) => one.pack.held?.[key] ?? []);
  const patterns: HeldPatterns = {
    held: patternOf(all('held'), false),
    back: patternOf(all('back'), false),
    holds: patternOf(all('holds'), false),
    loosens: patternOf(all('loosens'), true),
    builds: patternOf(all('builds'), true),
  };
  made.set(lexicon, patterns);
  return patterns;
}

/** Whether another act of the message, or the act's own words, stand against its being a report. */
export function standsAgainst(
  act: Act,
  acts: readonly Act[],
  text: string,
  title: string,
  words: HeldPatterns,
  isLoose: (one: Act) => boolean,
): boolean {
  const own = text.slice(act.span[0], act.span[1]);
  const denied = acts.some((one) => one.kind === 'not-done' && one.step !== act.step);
  if (denied && UNIT_ONLY.test(own)) return true;
  if (words.builds.test(title) && /\bdown to\b/i.test(own)) return true;
  if (act.kind === 'started' && /\bbefore \w+ing\b/i.test(own)) return true;
  if (act.kind === 'started' && /^\s*start (?:the|it|her)\b/i.test(own)) return true;
  const earlier = acts.some(
    (one) =>
      one !== act &&
      one.span[0] <= act.span[0] &&
      /^(done|partial)$/.test(one.kind) &&
      isLoose(one),
  );
  return (
    earlier &&
    !words.loosens.test(title) &&
    !words.holds.test(title) &&
    words.held.test(own) &&
    !words.back.test(own)
  );
}
