// No leaks, no play, no codes: the check was done and found nothing.
import { signsAgainst, speaksAgainst } from '../against.ts';
import { type Clause, cuesOf, hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';
import { isAdvice } from './wish-or-advice.ts';

/** "No leaks, I hope", "no leaks to do": what speaks against any report speaks against this one. */
const AGAINST = signsAgainst(
  // The report is itself made of these.
  'no',
  'none',
  'not',
  'defect',
  // "No leaks after the run", "no leaks, is good, still dry".
  'condition',
  'still',
  'except',
  'must',
  'mistake',
  'cannot',
  'wait-for',
  'question-word',
  'question-start',
  'question-tag',
  'private',
);

const TROUBLE =
  /^(dtc|dtcs|code|codes|fault|faults|drop|loss|movement|knock|knocks|noise|noises|sound|smell|smoke|bubbles|slip|judder|howl|vibration|drips|drip|misfire|riss|verlust)$/;

const saysNothing = (clause: Clause, at: number): boolean =>
  clause.pieces.some(
    (piece) =>
      piece.from <= at && at < piece.to && /^(nothing|nowhere)$/.test(piece.tokens[at]?.word ?? ''),
  );

/** "No dtc after the road test", "no drop in ten minutes", "no air left". */
function noTrouble(clause: Clause, at: number): boolean {
  const piece = clause.pieces.find((one) => one.from <= at && at <= one.to);
  const words =
    piece?.tokens.slice(at, Math.min(at + 4, piece.to)).map((token) => token.word) ?? [];
  const [first = '', second = ''] = words;
  if (/^(air|bubbles)$/.test(first)) return /^(left|in|out|coming|more)$/.test(second);
  const trouble = words.findIndex((word) => TROUBLE.test(word));
  return (
    trouble === 0 ||
    (trouble > 0 && trouble <= 2 && /^(fault|trouble|error|more|new|active|stored)$/.test(first))
  );
}

export const noFaultFound: Rule = {
  name: 'no-fault-found',
  says: 'No leaks, no play, no codes: the check was done and found nothing.',
  read: (clause) => {
    const cues = cuesOf(clause);
    if (!cues.some((cue) => cue.name === 'no' || cue.name === 'none' || cue.name === 'not'))
      return undefined;
    const no = cues.some((cue) => cue.name === 'no' || cue.name === 'none');
    if (no && (hasCue(clause, 'wish') || hasCue(clause, 'doubt')) && hasCue(clause, 'defect'))
      return { kind: isAdvice(clause) ? 'nothing' : 'unsure' };
    if (speaksAgainst(clause, AGAINST) || isAdvice(clause)) return undefined;
    // "Nothing at all weeps", "nothing is wet".
    const nothing = cues.find((cue) => cue.name === 'not' && saysNothing(clause, cue.from));
    const wrong = cues.find((cue) => cue.name === 'defect');
    if (nothing && wrong && wrong.from >= nothing.to && wrong.from - nothing.to <= 3)
      return { kind: 'done', weak: true };
    const none = cues.find((cue) => cue.name === 'no' || cue.name === 'none');
    if (!none) return undefined;
    if (noTrouble(clause, none.to)) return { kind: 'done', weak: true };
    const behind = cues.find(
      (cue) => cue.name === 'defect' && cue.from >= none.to && cue.from - none.to <= 2,
    );
    const piece = clause.pieces.find(
      (one) => behind !== undefined && one.from <= behind.from && behind.to <= one.to,
    );
    const compound =
      behind !== undefined &&
      piece !== undefined &&
      behind.to < piece.to &&
      (piece.tokens[behind.to]?.entry?.plan === true ||
        /^(check|checks|test|tests)$/.test(piece.tokens[behind.to]?.word ?? ''));
    if (compound) return undefined;
    if (!behind) return undefined;
    return { kind: 'done', weak: true };
  },
};

export const examples: Examples = {
  yes: ['no leaks', 'no faults after the road test'],
  no: ['no washers', 'leak at 2'],
  ask: [],
  also: ['not-done', 'something-wrong'],
};
