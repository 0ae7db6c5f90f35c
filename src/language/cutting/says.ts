// Whether a piece says something by itself.

import { type Piece, partNamed } from '../clause.ts';
import type { CueName } from '../pack.ts';

/** Signs that make a piece say something by itself. */
const SAYING: ReadonlySet<CueName> = new Set([
  'not',
  'not-yet',
  'left-to-do',
  'future',
  'later',
  'ready',
  'next',
  'finished',
  'good',
  'starting',
  'wait-for',
  'cannot',
  'question-word',
  'doubt',
  'defect',
  'none',
  'resume',
  'still',
  'needs',
  'other-side',
  'the-lot',
  'no',
  'except',
  'hand-tight',
  'clock-on',
  'clock-off',
]);

const telling = (piece: Piece): boolean =>
  partNamed(piece) &&
  piece.figures.some(
    (figure) =>
      /^(quantity|stage|code)$/.test(figure.kind) ||
      // "Prop bolts 80", and not "8 bolts", which counts them.
      (figure.kind === 'number' &&
        figure.from > piece.from &&
        piece.tokens[figure.to]?.entry?.plan !== true),
  );

export const says = (piece: Piece): boolean =>
  telling(piece) ||
  piece.verbs.some((verb) => !verb.maybeNoun) ||
  piece.moved.length > 0 ||
  piece.tick ||
  piece.cross ||
  piece.excepted.length > 0 ||
  piece.cues.some((cue) => SAYING.has(cue.name));

/** A piece that only doubts: nothing of the plan, no figure and no verb stands in it. */
export const doubtsOnly = (piece: Piece): boolean =>
  piece.parts.size === 0 &&
  piece.figures.length === 0 &&
  piece.moved.length === 0 &&
  !piece.tick &&
  !piece.verbs.some((verb) => verb.classes.length > 0) &&
  !piece.cues.some((cue) => /^(finished|not|later|future|starting)$/.test(cue.name)) &&
  piece.cues.some((cue) => cue.name === 'doubt');
