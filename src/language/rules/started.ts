// Started, on with, doing, draining now: it is begun and not done.
import { type Clause, figuresOf, hasCue, namesPart, verbsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

/** "Is standing on stands", "running sweet", "running on all six": how it stands or runs is a result. */
function standsThere(clause: Clause, at: number, lemma: string): boolean {
  const piece = clause.pieces.find((one) => one.from <= at && at < one.to);
  const next = piece && at + 1 < piece.to ? piece.tokens[at + 1]?.word : undefined;
  if (/^(stand|sit|rest|hang)$/.test(lemma)) return /^(on|onto|in|from)$/.test(next ?? '');
  if (lemma !== 'run' || !piece) return false;
  const good = piece.cues.some((cue) => cue.name === 'good' && cue.from === at + 1);
  const smooth =
    /^(nicely|nice|smooth|smoothly|well|evenly|even|quiet|quietly|beautifully|lovely)$/;
  const onAll =
    next === 'on' &&
    piece.figures.some((figure) => figure.kind === 'all' && figure.from === at + 2);
  return good || onAll || smooth.test(next ?? '');
}

const UNDER_HAND: ReadonlySet<string> = new Set(['getting', 'putting', 'having', 'being']);

/** "Getting the prop off", "flywheel being measured": what is happening has not happened. */
const isUnderHand = (clause: Clause): boolean =>
  clause.pieces.some((piece) => {
    let at = 0;
    while (at < piece.to - piece.from && !UNDER_HAND.has(piece.tokens[piece.from + at]?.word ?? ''))
      at += 1;
    if (at === piece.to - piece.from) return false;
    const before = piece.verbs.some((verb) => verb.form === 'past' && verb.at < piece.from + at);
    const named = piece.tokens[piece.from + at]?.word === 'being' || piece.moved.length > 0;
    const moves =
      named && (piece.moved.length > 0 || piece.verbs.some((v) => v.at > piece.from + at));
    return !before && moves && !piece.cues.some((cue) => cue.name === 'finished');
  });

export const started: Rule = {
  name: 'started',
  says: 'Started, on with, doing, draining now: it is begun and not done.',
  read: (clause, tongue) => {
    const verbs = verbsOf(clause);
    const first = clause.pieces[0];
    const away = first?.tokens[first.from]?.word;
    const on = first?.tokens[first.from + 1]?.word;
    if (
      /^(off|away|out)$/.test(away ?? '') &&
      /^(on|for|to|doing)$/.test(on ?? '') &&
      !verbs.some((verb) => verb.form === 'past')
    )
      return { kind: 'started' };
    if (
      hasCue(clause, 'starting') &&
      !verbs.some((verb) => verb.form === 'past' && verb.lemma !== 'start') &&
      !hasCue(clause, 'finished')
    )
      return { kind: 'started' };
    if (isUnderHand(clause)) return { kind: 'started' };
    const ing = verbs.find((verb) => verb.form === 'ing');
    if (!ing) return undefined;
    // Where the present has no form of its own for what is going on, it needs a part: "Ich fahre heute" is talk.
    if (tongue.pack.verbLast && !namesPart(clause)) return undefined;
    if (
      hasCue(clause, 'finished') ||
      verbs.some(
        (verb) => verb.form === 'past' && (verb.at < ing.at || tongue.pack.verbLast === true),
      )
    )
      return undefined;
    if (!hasCue(clause, 'nearly') && standsThere(clause, ing.at, ing.lemma))
      return { kind: 'done' };
    // "Holding 1.2 bar", "reading 0.06": a figure that stands there now is a result.
    const sized = figuresOf(clause).some((figure) => figure.kind === 'quantity');
    if (sized && /^(hold|read|show|sit)$/.test(ing.lemma)) return { kind: 'done' };
    return { kind: 'started' };
  },
};

export const examples: Examples = {
  yes: [
    'off on a test drive',
    'draining the coolant now',
    'started on the clamps',
    'bleeding it now',
    'getting the rocker cover off',
    'coolant being drained',
  ],
  no: ['finished draining the coolant'],
  ask: [],
};
