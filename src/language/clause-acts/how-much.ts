// How much of a step is said: a count, all but one, the stage that has an angle.
import type { Act } from '../../../shared/reading.ts';
import type { Clause } from '../clause.ts';
import type { StepPhrases } from '../match/phrases.ts';
import type { Wanted } from '../match/score.ts';
import type { Figure } from '../scan/figure.ts';

/** "Wheels off both sides, 20 nuts": the count of all places together. */
export function withCountOfAll(act: Act, step: StepPhrases, figures: readonly Figure[]): Act {
  if (act.count || act.positions.length < 2) return act;
  const counts = (step.step?.report ?? []).flatMap((ask) =>
    ask.kind === 'off' || ask.kind === 'on' ? [ask.count] : [],
  );
  const found = figures.find(
    (figure) => figure.kind === 'number' && counts.includes(figure.value / act.positions.length),
  );
  return found?.kind === 'number' ? { ...act, count: { done: found.value } } : act;
}

/** "All clips on bar one": something is left out, and no place says what. */
export const leftOut = (clause: Clause): boolean =>
  clause.pieces.some((piece) =>
    piece.cues.some(
      (cue) =>
        cue.name === 'except' &&
        (piece.tokens[cue.to]?.kind === 'number' ||
          /^(one|two|the|a)$/.test(piece.tokens[cue.to]?.word ?? '')) &&
        !piece.figures.some((figure) => figure.from <= cue.from && cue.to <= figure.to),
    ),
  );

/** "Angle to do", "noch den Winkel": the only stage that has one. */
export function withAngleStage(act: Act, step: StepPhrases, wanted: Wanted): Act {
  if (!/^(not-done|intends|started)$/.test(act.kind) || act.stage !== undefined) return act;
  if (!wanted.words.some((word) => /^(angle|turn|degree|winkel)$/.test(word.root))) return act;
  const ask = step.step?.report?.find((one) => one.kind === 'tightening');
  if (ask?.kind !== 'tightening') return act;
  const stages = ask.stages.flatMap((one, at) => (one.angle === undefined ? [] : [at + 1]));
  return stages.length === 1 && stages[0] !== undefined ? { ...act, stage: stages[0] } : act;
}

/** Fewer than the plan's count is a part of the step. */
export function lessThanAll(act: Act, step: StepPhrases): Act {
  if (act.kind !== 'done' || !act.count) return act;
  const counts = (step.step?.report ?? []).flatMap((ask) =>
    ask.kind === 'off' || ask.kind === 'on'
      ? [ask.count]
      : (ask.kind === 'tightening' || ask.kind === 'loosening') && ask.fasteners !== undefined
        ? [ask.fasteners]
        : [],
  );
  const of = act.count.of ?? counts[0];
  return of !== undefined && act.count.done < of ? { ...act, kind: 'partial' } : act;
}
