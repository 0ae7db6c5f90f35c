// "Don't start it", "must not be started", "stays off": a warning or an intention to leave it is no report.
import { type Piece, wordsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

const OPENING: ReadonlySet<string> = new Set([
  ...'please lads guys so and ok oi hey still right bitte everyone all nobody'.split(' '),
  '',
]);

/** In every order that something stay as it is one of these words stands. */
const FORBIDDING: ReadonlySet<string> = new Set(
  'darf dürfen dürft must stays staying stay leave leaving'.split(' '),
);

const wordsIn = (piece: Piece): readonly string[] =>
  piece.tokens.slice(piece.from, piece.to).map((token) => token.word);

export const toldNotTo: Rule = {
  name: 'told-not-to',
  says: '"Don\'t start it", "must not be started", "stays off": no report.',
  read: (clause, tongue) => {
    const piece = clause.pieces[0];
    if (!piece) return undefined;
    const words = clause.pieces.length === 1 ? wordsOf(clause) : wordsIn(piece);
    const at = words.findIndex((word) => !OPENING.has(word));
    const [first, second, third] = words.slice(Math.max(0, at));
    if (
      (first === 'do' &&
        second === 'not' &&
        !/^(have|know|think|remember|need)$/.test(third ?? '')) ||
      ((first === 'never' || (first === 'not' && tongue.pack.verbLast === true)) &&
        piece.verbs.some((verb) => verb.form === 'base'))
    )
      return { kind: 'nothing' };
    if (
      /^(nobody|keiner|niemand)$/.test(words[0] ?? '') &&
      !piece.verbs.some((verb) => verb.form === 'past')
    )
      return { kind: 'nothing' };
    const last = piece.verbs.at(-1);
    const forbids =
      tongue.pack.verbLast === true &&
      last?.form === 'base' &&
      last.at === piece.to - 1 &&
      piece.tokens[last.at - 1]?.word === 'not' &&
      !piece.cues.some((cue) => cue.name === 'cannot');
    if (forbids) return { kind: 'nothing' };
    if (!words.some((word) => FORBIDDING.has(word))) return undefined;
    const text = ` ${words.join(' ')} `;
    return / (darf|dürfen|dürft) .*(not|no|then|erst) | must not | (stays|staying|stay|leave|leaving) (it |them |the )?(\w+ )?(off|out|on|in|open) /.test(
      text,
    )
      ? { kind: 'nothing' }
      : undefined;
  },
};

export const examples: Examples = {
  yes: ["don't crank it", 'the engine must not be started yet', 'rocker cover stays off'],
  no: ['coolant not drained yet', "I don't have the washers"],
  ask: [],
  also: ['about-to', 'not-done', 'started'],
};
