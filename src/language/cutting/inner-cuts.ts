// Where a line without marks goes from one report to the next.
import type { Cue } from '../cue-table.ts';
import type { Tongue } from '../lexicon.ts';
import type { CueName } from '../pack.ts';
import type { Figure } from '../scan/figure.ts';
import type { Token } from '../tidy/token.ts';
import { anchorOf } from './anchors.ts';
import { deniedFrom, isDont, placeWithOwnWord, subjectWithVerb, TURNS } from './new-subject.ts';

export const PREDICATE: ReadonlySet<CueName> = new Set([
  'finished',
  'later',
  'next',
  'left-to-do',
  'not-yet',
  'ready',
]);

const TOLD: ReadonlySet<string> = new Set(['nobody', 'needs', 'need']);

/**
 * Where a line without marks goes from one report to the next: "washers on 1 2 3 injectors next". A new noun behind
 * a report opens a new one if something is said of it; a new verb behind verb and noun does too.
 */
export function innerCuts(
  tokens: readonly Token[],
  from: number,
  to: number,
  inFigure: Uint8Array,
  figures: readonly Figure[],
  cues: readonly Cue[],
  tongue: Tongue,
): number[] {
  if (to - from < 4) return [];
  if (
    tongue.pack.verbLast &&
    cues.some((cue) => cue.name === 'condition' && cue.from >= from && cue.to <= to)
  )
    return [];
  const kinds: ('noun' | 'verb' | 'state' | '')[] = [];
  for (let i = from; i < to; i += 1) kinds.push(anchorOf(tokens, i, to, inFigure, cues, tongue));
  const cuts: number[] = [];
  let noun = false;
  let verb = false;
  let nounFirst = false;
  for (let i = from; i < to; i += 1) {
    const kind = kinds[i - from] ?? '';
    if (placeWithOwnWord(i, cuts.at(-1) ?? from, to, figures, cues, verb)) {
      cuts.push(i);
      noun = false;
      verb = false;
      continue;
    }
    const rest = figures.find((figure) => figure.kind === 'rest' && figure.from === i);
    // "Wheels chocked nobody move them", "lift 0.30 right needs another shim": what is told or wanted is new.
    const told =
      (TOLD.has(tokens[i]?.word ?? '') && tokens[i - 1]?.word !== 'still') || isDont(tokens, i);
    const reported = verb || sizedBefore(figures, cuts.at(-1) ?? from, i);
    const own = reported && subjectWithVerb(tokens, i, to);
    if (!tongue.pack.verbLast && (told || own) && noun && nounFirst && reported && i + 1 < to) {
      cuts.push(i);
      noun = false;
      verb = false;
      continue;
    }
    // "Pump on not torqued", "gearbox in bolts finger tight": what is denied behind a report is another thing.
    if (!tongue.pack.verbLast && noun && verb && nounFirst && deniedFrom(tokens, i, to, cues)) {
      cuts.push(i);
      noun = false;
      verb = false;
      continue;
    }
    const opens = kind === 'noun' && kinds[i - from - 1] !== 'noun';
    if (
      (opens || rest) &&
      (verb || (rest && sizedBefore(figures, cuts.at(-1) ?? from, i))) &&
      (nounFirst || rest) &&
      (noun || rest) &&
      !ledByPreposition(tokens, i, tongue) &&
      saidLater(kinds, i - from, cues, i, to)
    ) {
      const start = phraseStart(tokens, i, from, inFigure, figures);
      const held =
        /^(once|if|when|until|till|unless|before|after|while|because|sobald|wenn|bis|bevor|nachdem)$/.test(
          tokens[start - 1]?.word ?? '',
        );
      const denied = cues.some(
        (cue) => TURNS.has(cue.name) && cue.from >= (cuts.at(-1) ?? from) && cue.from < start,
      );
      if (!held && !denied && start > (cuts.at(-1) ?? from)) {
        cuts.push(start);
        noun = kind === 'noun';
        verb = false;
        nounFirst = true;
        continue;
      }
    }
    if (
      kind === 'verb' &&
      verb &&
      noun &&
      !nounFirst &&
      tokens[i]?.entry?.forms.includes('past') &&
      !cues.some((cue) => TURNS.has(cue.name) && cue.from >= (cuts.at(-1) ?? from) && cue.from < i)
    ) {
      cuts.push(i);
      noun = false;
      continue;
    }
    if (kind === 'noun') {
      if (!noun && !verb) nounFirst = true;
      noun = true;
    } else if (kind !== '') {
      verb = true;
    }
  }
  return cuts;
}

/** A stage or a quantity before it reports as well as a verb does. */
const sizedBefore = (figures: readonly Figure[], from: number, i: number): boolean =>
  figures.some(
    (figure) =>
      figure.from >= from && figure.to <= i && /^(quantity|stage|count)$/.test(figure.kind),
  );

const ledByPreposition = (tokens: readonly Token[], i: number, tongue: Tongue): boolean => {
  let k = i - 1;
  while (k >= 0 && /^(the|a|an|new|old|all|my|this|that|its)$/.test(tokens[k]?.word ?? '')) k -= 1;
  const word = tokens[k]?.word ?? '';
  return (
    tokens[k]?.kind === 'word' &&
    tongue.pack.prepositions.includes(word) &&
    !(tongue.pack.particles[word] !== undefined && k === i - 1)
  );
};

const saidLater = (
  kinds: readonly string[],
  at: number,
  cues: readonly Cue[],
  i: number,
  to: number,
) =>
  kinds.slice(at + 1).some((kind) => kind === 'verb' || kind === 'state') ||
  cues.some(
    (cue) => cue.from >= i && cue.to <= to && /^(not|later|next|hand-tight|cannot)$/.test(cue.name),
  );

/** The noun with the small words and the figure that belong before it: "new washers", "all six clamps". */
function phraseStart(
  tokens: readonly Token[],
  i: number,
  from: number,
  inFigure: Uint8Array,
  figures: readonly Figure[],
): number {
  let k = i;
  while (
    k > from &&
    /^(the|a|an|new|old|all|my|this|that|its|no|then|now|both|some)$/.test(
      tokens[k - 1]?.word ?? '',
    ) &&
    !inFigure[k - 1]
  )
    k -= 1;
  // "LH wheel off RH wheel seized": where the first place stood before its noun, so does the second.
  const placeFirst = figures.some((figure) => figure.kind === 'positions' && figure.from === from);
  const before = figures.find(
    (figure) =>
      figure.to === k &&
      (figure.kind === 'all' ||
        figure.kind === 'count' ||
        (placeFirst && figure.kind === 'positions' && !figure.bare)),
  );
  if (before && before.from > from && !figures.some((one) => one.to === before.from)) {
    const word = tokens[before.from - 1]?.word ?? '';
    if (!/^(on|in|for|of|at|to|from)$/.test(word)) return before.from;
  }
  return k;
}
