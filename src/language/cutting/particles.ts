// Particles that report by themselves: off, in, back on, laid aside.
import type { VerbHit } from '../clause.ts';
import type { Cue } from '../cue-table.ts';
import type { Tongue } from '../lexicon.ts';
import type { ActionClass } from '../pack.ts';
import type { Figure } from '../scan/figure.ts';
import type { Token } from '../tidy/token.ts';
import { inPlace, laidAside } from './laid-aside.ts';

/** The down of "down pipe", where the plan names a part so. */
export const namesThing = (
  tokens: readonly Token[],
  i: number,
  to: number,
  tongue: Tongue,
): boolean => {
  const token = tokens[i];
  const next = tokens[i + 1];
  return (
    i + 1 < to &&
    token !== undefined &&
    next?.entry?.plan === true &&
    token.word.length > 2 &&
    tongue.vocabulary.before(token.word, next.word) === token.word
  );
};

/** A particle reports by itself unless it only leads to a place: "washers on 1-4" reports, "nuts torqued on 1-4" does not. */
export function particles(
  tokens: readonly Token[],
  places: readonly number[],
  verbs: readonly VerbHit[],
  from: number,
  to: number,
  tongue: Tongue,
  moved: ActionClass[],
  inFigure: Uint8Array,
  cues: readonly Cue[],
  figures: readonly Figure[],
): void {
  for (const i of places) {
    const token = tokens[i] as Token;
    const next = tokens[i + 1];
    const adverb = tongue.pack.adverbs?.includes(token.word) === true;
    if (namesThing(tokens, i, to, tongue)) continue;
    // "Dryer is on the floor": it is off, and the vehicle that is on it is down.
    const laid = laidAside(tokens, i, from, to, tongue.pack);
    if (laid) {
      if (verbs.length === 0 && laid.told) moved.push(...laid.classes);
      continue;
    }
    if (tongue.pack.verbLast && !adverb && i + 1 < to) continue;
    const leads =
      !adverb &&
      next !== undefined &&
      i + 1 < to &&
      next.kind === 'word' &&
      !inFigure[i + 1] &&
      (next.entry?.plan === true ||
        /^(the|a|an|new|old|this|that|my|its|his|her|our|stage|place|progress|bay|good|spec|there|to|total|all|stores|stock|front|case|line|order|turn|fact|time)$/.test(
          next.word,
        ));
    const behindVerb = verbs.some((verb) => verb.form !== 'base' && verb.at < i);
    const denied =
      token.word === 'in' && cues.some((cue) => cue.name === 'no' && cue.to <= i && i - cue.to < 4);
    // "Hoses off the pump": the noun before it came off; "cap off", "off the shelf" are told apart by it.
    const cameOff =
      (token.word === 'off' || (token.word === 'out' && next?.word === 'of')) &&
      verbs.length === 0 &&
      i - 1 >= from &&
      (tokens[i - 1]?.entry?.plan === true ||
        (/^(is|are)$/.test(tokens[i - 1]?.word ?? '') && tokens[i - 2]?.entry?.plan === true));
    if (inPlace(tokens, i, from, to) && verbs.every((verb) => verb.form === 'base')) {
      moved.push('fit');
      continue;
    }
    if (leads && !denied && !cameOff && (token.word !== 'back' || behindVerb)) continue;
    // The up of "fired up" is of the verb.
    const ofVerb = verbs.some(
      (verb) =>
        verb.form === 'past' &&
        verb.at === i - 1 &&
        tongue.pack.phrasal[`${verb.lemma} ${token.word}`] !== undefined,
    );
    if (ofVerb && !tongue.pack.verbLast) continue;
    const behindDone = cues.some(
      (cue) =>
        (cue.name === 'finished' || cue.name === 'good' || cue.name === 'starting') &&
        cue.to <= i &&
        cue.from >= from,
    );
    if ((behindVerb || behindDone) && next !== undefined && i + 1 < to && inFigure[i + 1]) continue;
    // "15 nm on 2 and 4": behind a figure it leads to the place.
    const behindFigure = figures.some(
      (figure) =>
        figure.from >= from && figure.to <= i && /^(quantity|stage|number)$/.test(figure.kind),
    );
    if (behindFigure && /^(on|in)$/.test(token.word) && i + 1 < to && inFigure[i + 1]) continue;
    if (behindDone && leads) continue;
    if (i === from && !adverb && token.word !== 'off' && token.word !== 'out' && to - from > 3)
      continue;
    if (token.word === 'back' && /^(on|in|up|to|at|from|off)$/.test(next?.word ?? '')) continue;
    if (token.word === 'out' && next?.word === 'of' && i === from) continue;
    if (
      token.word === 'back' &&
      next?.kind === 'word' &&
      i + 1 < to &&
      !inFigure[i + 1] &&
      !/^(on|in|up|to|together|at|now|and|again|down)$/.test(next.word) &&
      !behindVerb
    )
      continue;
    if (
      token.word === 'out' &&
      next?.word === 'of' &&
      !inFigure[i + 2] &&
      tokens[i + 2]?.entry?.plan !== true &&
      !/^(the|it|there|its)$/.test(tokens[i + 2]?.word ?? '')
    )
      continue;
    if (/^(later|then|top|about|straight|to)$/.test(tokens[i - 1]?.word ?? '')) continue;
    moved.push(...(tongue.pack.particles[token.word] ?? []));
  }
  // "truck on stands": with nothing else said, where the thing stands is the report.
  const onto = places.find(
    (i) =>
      /^(on|auf|under)$/.test(tokens[i]?.word ?? '') &&
      (i > from || tongue.pack.verbLast === true) &&
      tokens[i + 1]?.entry?.plan === true,
  );
  if (moved.length === 0 && verbs.length === 0 && onto !== undefined) moved.push('support', 'fit');
}
