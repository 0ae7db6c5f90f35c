// A verb or a figure alone: the step spoken of before, or the only one it suits.
import { nearest } from '../match/kinship.ts';
import type { Match, Wanted } from '../match/score.ts';
import type { Message } from '../message.ts';
import { CANDIDATES } from '../thresholds.ts';
import { byTheirFigure, classesFree, stagesAlone, tightenedNext } from './choose-by-figure.ts';
import type { Choice } from './choose-step.ts';
import type { Focus } from './so-far.ts';

/** A verb or a figure alone: the step spoken of before, or the only one it suits. */
export function withoutPart(
  ranked: readonly Match[],
  wanted: Wanted,
  focus: Focus | undefined,
  weak: boolean,
  message: Message,
): Choice {
  const exact = ranked.filter((one) => one.exact);
  if (exact.length === 1 && exact[0])
    return { step: exact[0].step, assumed: [], fromContext: false };
  const best = ranked[0];
  const verbs = wanted.classes.length > 0;
  if (focus) {
    const next = wanted.unknown === 0 ? tightenedNext(wanted, focus, message) : undefined;
    if (next)
      return {
        step: next,
        assumed: [`step: ${next.title}, the next one with this figure`],
        fromContext: true,
      };
    const suits =
      !verbs || focus.step.phrases.some((phrase) => nearest(wanted.classes, phrase.classes) >= 0.5);
    if (suits && wanted.unknown === 0)
      return {
        step: focus.step,
        assumed: [`step: ${focus.step.title}, spoken of before`],
        fromContext: true,
      };
  }
  const torqued =
    wanted.unknown === 0 && classesFree(wanted) ? byTheirFigure(wanted, message) : undefined;
  if (torqued)
    return {
      step: torqued,
      assumed: [`step: ${torqued.title}, the only one with this figure`],
      fromContext: false,
      byFigure: true,
    };
  const staged = wanted.unknown === 0 && wanted.words.length <= 6 && stagesAlone(wanted, message);
  if (staged) return { several: staged };
  if (!best || !verbs || wanted.unknown > 0) return undefined;
  const close = ranked.filter((one) => best.score - one.score < 0.055);
  if (best.score < 0.4 || weak) return undefined;
  if (close.length === 1) {
    return best.score >= 0.46
      ? {
          step: best.step,
          assumed: [`step: ${best.step.title}, the only one these words suit`],
          fromContext: false,
        }
      : undefined;
  }
  if (wanted.words.length > 8 || wanted.unknown > 0) return undefined;
  const telling = wanted.figures.some((figure) =>
    /^(quantity|stage|code|positions)$/.test(figure.kind),
  );
  return telling ? { several: close.slice(0, CANDIDATES) } : undefined;
}
