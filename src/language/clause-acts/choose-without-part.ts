// A verb or a figure alone: the step spoken of before, or the only one it suits.
import { nearest } from '../match/kinship.ts';
import type { StepPhrases } from '../match/phrases.ts';
import type { Match, Wanted } from '../match/score.ts';
import { soleTaker } from '../match/sole-taker.ts';
import type { Message } from '../message.ts';
import type { Stance } from '../stance.ts';
import { CANDIDATES, STRANGERS_BY_FIGURE, WORDS_BY_FIGURE } from '../thresholds.ts';
import { byTheirFigure, classesFree, stagesAlone, tightenedNext } from './choose-by-figure.ts';
import { type Choice, weightOf } from './choose-step.ts';
import { wordsBeside } from './passed-over.ts';
import type { Focus } from './so-far.ts';

/** Words of the whole message that neither the plan nor the language knows. */
const strangersIn = (message: Message): number =>
  message.tokens.filter(
    ({ kind, word, entry }) =>
      kind === 'word' && entry && !entry.known && !entry.stop && word.length > 2,
  ).length;

/** "28.2 volts", "250 mm on the left": the only step of the plan that asks for such a figure. */
function soleOf(wanted: Wanted, message: Message): StepPhrases | undefined {
  const sole = soleTaker(wanted.figures, message.tongue.steps);
  if (!sole || strangersIn(message) > STRANGERS_BY_FIGURE[weightOf(sole)]) return undefined;
  // "1.2 bar, that is my blood pressure": of the writer, not of the vehicle.
  if (message.words.some((word) => /^(my|your|his|mein|meine|dein|deine)$/.test(word)))
    return undefined;
  if (wordsBeside(message) > WORDS_BY_FIGURE) return undefined;
  // "650 all round", "6 % left": a bare figure of a grave step, and a share of something, leave open of what.
  const bare = wanted.figures.some(
    (one) => one.kind === 'number' || (one.kind === 'quantity' && one.unit === '%'),
  );
  const whole = wanted.figures.some((one) => one.kind === 'number' && Number.isInteger(one.value));
  if (
    bare &&
    (whole || weightOf(sole) === 'safety-critical') &&
    !wanted.classes.includes('tighten')
  )
    return undefined;
  const suits =
    wanted.classes.length === 0 ||
    sole.phrases.some((phrase) => nearest(wanted.classes, phrase.classes) >= 0.5);
  return suits ? sole : undefined;
}

/** A verb or a figure alone: the step spoken of before, or the only one it suits. */
export function withoutPart(
  ranked: readonly Match[],
  wanted: Wanted,
  focus: Focus | undefined,
  stance: Stance,
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
  const reports = stance.kind === 'done' || stance.kind === 'partial';
  const sole = reports ? soleOf(wanted, message) : undefined;
  if (sole)
    return {
      step: sole,
      assumed: [`step: ${sole.title}, the only one that asks for such a figure`],
      fromContext: false,
      byFigure: true,
    };
  const staged = wanted.unknown === 0 && wanted.words.length <= 6 && stagesAlone(wanted, message);
  if (staged) return { several: staged };
  if (!best || !verbs || wanted.unknown > 0) return undefined;
  const close = ranked.filter((one) => best.score - one.score < 0.055);
  if (best.score < 0.4 || stance.weak === true) return undefined;
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
