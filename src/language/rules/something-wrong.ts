// Cracked, worn, leaking, missing: something was found, and nothing is done by it.
import { figuresOf, hasCue, verbsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const somethingWrong: Rule = {
  name: 'something-wrong',
  says: 'Cracked, worn, leaking, missing: something was found, and nothing is done by it.',
  read: (clause) => {
    const cues = clause.pieces.flatMap((piece) =>
      piece.cues.filter(
        (cue) => cue.name === 'defect' && !/^(off|up|down)$/.test(piece.tokens[cue.to]?.word ?? ''),
      ),
    );
    if (cues.length === 0) return undefined;
    const slip = clause.pieces.some((piece) =>
      cues.some((cue) => /^(mistake|up)$/.test(piece.tokens[cue.to - 1]?.word ?? '')),
    );
    if (slip) return { kind: 'finding', note: true };
    const measured = figuresOf(clause).some((figure) => /^(quantity|stage)$/.test(figure.kind));
    const done = verbsOf(clause).filter(
      (verb) =>
        verb.form === 'past' &&
        !/^(find|look|come|go)$/.test(verb.lemma) &&
        // "Leaks checked two weeping": a look that found something.
        !(!measured && verb.classes.includes('check') && cues.some((cue) => cue.from > verb.at)) &&
        (measured || !cues.some((cue) => cue.from <= verb.at && verb.at < cue.to)),
    );
    return done.length === 0 && !hasCue(clause, 'finished')
      ? { kind: 'finding', note: true }
      : undefined;
  },
};

export const examples: Examples = {
  yes: ['sleeve 3 is cracked', 'leak at 2'],
  no: ['rocker cover off'],
  ask: [],
};
