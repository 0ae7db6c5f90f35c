// No leaks, no play, no codes: the check was done and found nothing.
import { hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const noFaultFound: Rule = {
  name: 'no-fault-found',
  says: 'No leaks, no play, no codes: the check was done and found nothing.',
  read: (clause) => {
    const cues = clause.pieces.flatMap((piece) => piece.cues);
    const none = cues.find((cue) => cue.name === 'no' || cue.name === 'none');
    if (!none) return undefined;
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
      piece.tokens[behind.to]?.entry?.plan === true;
    if (compound) return undefined;
    if (!behind || hasCue(clause, 'not-yet') || hasCue(clause, 'future')) return undefined;
    return { kind: 'done', weak: true };
  },
};

export const examples: Examples = {
  yes: ['no leaks', 'no faults after the road test'],
  no: ['no washers', 'leak at 2'],
  ask: [],
  also: ['not-done', 'something-wrong'],
};
