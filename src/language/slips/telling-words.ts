// Words that turn a report, place it or name its work: a stranger that may be one of them may change what was said.
import type { Tongue } from '../lexicon.ts';
import type { CueName } from '../pack.ts';
import { slipsBetween } from './near-words.ts';

/** Signs that deny, doubt, limit, ask, put off or pass on. */
const TURNING_SIGNS: readonly CueName[] = [
  'not',
  'no',
  'none',
  'not-yet',
  'left-to-do',
  'still',
  'except',
  'condition',
  'future',
  'later',
  'next',
  'doubt',
  'wish',
  'must',
  'nearly',
  'hand-tight',
  'question-word',
  'says',
  'book',
  'retract',
  'wait-for',
  'cannot',
  'needs',
  'other-vehicle',
  'defect',
];

/** Signs that a word of its own may stand for by a slip: "clamps done bat 6". */
const SHORT_SIGNS: readonly CueName[] = ['not', 'still', 'except', 'left-to-do'];

export type TellingWords = {
  /** Words that turn a report into none, by length. */
  readonly turning: readonly (readonly string[])[];
  /** Those of them that deny or leave something out. */
  readonly denying: readonly (readonly string[])[];
  /** Words that join places or pass a text on. */
  readonly joining: readonly (readonly string[])[];
  /** Words of places and numbers. */
  readonly placing: readonly (readonly string[])[];
  /** These and the words of the work of the plan, by length. */
  readonly naming: readonly (readonly string[])[];
  /** Words of everyday speech: as written they are meant. */
  readonly ordinary: ReadonlySet<string>;
};

const made = new WeakMap<Tongue, TellingWords>();

const byLength = (words: Iterable<string>): string[][] => {
  const out: string[][] = [];
  for (const word of words) {
    if (word.length < 2 || word.includes(' ')) continue;
    out[word.length] ??= [];
    out[word.length]?.push(word);
  }
  return out;
};

/** The telling words of one language's view of a plan, made once. */
export function tellingWords(tongue: Tongue): TellingWords {
  const have = made.get(tongue);
  if (have) return have;
  const { pack } = tongue;
  const signs = (names: readonly CueName[]) =>
    names.flatMap((name) => pack.cues[name] ?? []).filter((phrase) => !phrase.includes(' '));
  const elsewhere = (pack.cues['other-vehicle'] ?? [])
    .flatMap((phrase) => phrase.split(' '))
    .filter((word) => word.length >= 5);
  const { joining } = tongue;
  const turning = new Set([
    ...elsewhere,
    ...signs(TURNING_SIGNS),
    ...(pack.turning ?? []),
    ...joining,
  ]);
  const placing = new Set([
    ...Object.keys(pack.numbers),
    ...(tongue.scan.sidesOfPlan ?? []),
    ...Object.keys(pack.sides),
  ]);
  const naming = new Set([
    ...placing,
    ...signs(['finished']),
    ...tongue.steps.flatMap((step) => step.phrases.flatMap((phrase) => phrase.words)),
    ...tongue.partRoots,
  ]);
  const words = {
    turning: byLength(turning),
    denying: byLength(new Set([...signs(SHORT_SIGNS), ...elsewhere])),
    joining: byLength(joining),
    placing: byLength(placing),
    naming: byLength(naming),
    ordinary: new Set(pack.ordinary ?? []),
  };
  made.set(tongue, words);
  return words;
}

/** The words of a list that may have been meant by another word. */
export function nearTo(
  word: string,
  lists: readonly (readonly string[])[],
  most: number,
): string[] {
  const out: string[] = [];
  for (let length = word.length - most; length <= word.length + most; length += 1)
    for (const one of lists[length] ?? [])
      if (one !== word && slipsBetween(word, one, most) <= most) out.push(one);
  return out;
}

/** "Bisauf", "therearr", "twwoweepint": a turning word or a place run together with something else. */
export function holdsGlued(word: string, telling: TellingWords, named: boolean): boolean {
  if (word.length < 6) return false;
  const stands = (lists: readonly (readonly string[])[], least: number) =>
    lists.some(
      (list, length) =>
        length >= least &&
        length <= word.length - 2 &&
        list.some((one) =>
          length > 3 ? word.includes(one) : word.startsWith(one) || word.endsWith(one),
        ),
    );
  if (stands(telling.turning, 3) || stands(telling.placing, 4)) return true;
  if (named && stands(telling.naming, 4)) return true;
  for (let cut = 5; cut <= word.length - 3; cut += 1) {
    const ends = [word.slice(0, cut), word.slice(word.length - cut)];
    if (ends.some((end) => nearTo(end, telling.turning, 1).length > 0)) return true;
  }
  return false;
}
