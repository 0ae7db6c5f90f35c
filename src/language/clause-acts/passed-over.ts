// Words too vague for a step, or about something beside it, are passed over.

import { isWorkBeside } from '../beside-work.ts';
import { type Clause, hasCue, partNamed, verbsOf } from '../clause.ts';
import type { Lexicon } from '../lexicon.ts';
import { figureFit } from '../match/figure-fit.ts';
import { nearest } from '../match/kinship.ts';
import type { StepPhrases } from '../match/phrases.ts';
import { placesSaid } from '../match/places-said.ts';
import { rankSteps, type Wanted } from '../match/score.ts';
import type { Message } from '../message.ts';
import type { Stance } from '../stance.ts';
import { MAY_NAME_PART } from '../thresholds.ts';
import { type ChosenStep, weightOf } from './choose-step.ts';
import { addFinding } from './read-clause.ts';
import { eased } from './wanted.ts';
import { enoughForWeak } from './weak-report.ts';
import type { Work } from './work.ts';

/** Whether the words are too little for this step, or are about something beside it. */
export function passedOver(work: Work, choice: ChosenStep): boolean {
  const { stance, clause, message, lexicon, wanted, unnamed } = work;
  const step = choice.step;
  const open = !choice.fromContext && !stance.step && !choice.byFigure;
  if (open && onlyAside(step, wanted, clause, stance, message, lexicon)) return true;
  const reports = stance.kind === 'done' || stance.kind === 'partial';
  if (reports && !stance.step && isWorkBeside(step, clause, message)) return true;
  const vague =
    open &&
    stance.kind !== 'asks' &&
    tooVague(
      step,
      eased(unnamed, stance, clause),
      message,
      lexicon,
      stance.kind === 'not-done' && hasCue(clause, 'not-yet'),
      reports,
    );
  if (vague) {
    const plain = wanted.unknown === 0 && partNamed(wanted);
    if (stance.kind === 'finding' && plain) addFinding(work);
    return true;
  }
  if (stance.weak && !enoughForWeak(stance, step, clause, lexicon)) return true;
  return reports && onlyBelow(step, clause);
}

const ONLY: ReadonlySet<string> = new Set(['only', 'just', 'nur', 'bloß']);

/** "It stands only on the jack": what it stands on is said to be too little. */
const onlyBelow = (step: StepPhrases, clause: Clause): boolean =>
  weightOf(step) === 'safety-critical' &&
  clause.pieces.some((piece) =>
    piece.tokens
      .slice(piece.from, piece.to)
      .some(
        (token, k, all) =>
          ONLY.has(token.word) && /^(on|auf|with|mit)$/.test(all[k + 1]?.word ?? ''),
      ),
  ) &&
  !step.phrases.some(
    (phrase) => phrase.from === 'title' && phrase.classes.some((family) => family === 'lift'),
  );

/**
 * Words that other trades use as well ("check", "run", "test", "disk drive") say nothing of the plan by themselves:
 * with strangers among them they are talk.
 */
function tooVague(
  step: StepPhrases,
  wanted: Wanted,
  message: Message,
  lexicon: Lexicon,
  denied: boolean,
  reports: boolean,
): boolean {
  const telling = wanted.figures.filter((figure) =>
    /^(quantity|stage|code|trouble-code|count)$/.test(figure.kind),
  );
  if (telling.length > 0 && figureFit(step, telling, lexicon) > 0) return wanted.unknown > 3;
  const common = message.tongue.common;
  let named = 0;
  for (const [root, value] of wanted.parts)
    if (value >= MAY_NAME_PART && !common.has(root)) named += 1;
  if (named === 0 && wanted.parts.size === 0) {
    const own = rankSteps(wanted, message.tongue, lexicon).find((one) => one.step.id === step.id);
    const it = wanted.words.some((word) => /^(it|her|him)$/.test(word.root));
    if (own?.exact && own.reports && it && wanted.unknown === 0) return false;
    // "About to start her up": what is meant to be done is known by its verb, where only one step has it.
    if (it && !reports && wanted.unknown === 0 && wanted.lemmas.length > 0) return false;
    if (reports && besideVerb(message) && !placesFit(step, wanted, lexicon)) return true;
    if (!reports && !denied && !worksSo(step, wanted)) return true;
    return (
      wanted.unknown > 0 ||
      (wanted.lemmas.some((lemma) => common.has(lemma)) && !placesFit(step, wanted, lexicon)) ||
      wanted.lemmas.length === 0
    );
  }
  if (named > 0 && wanted.unknown <= 1) return false;
  const match = rankSteps(wanted, message.tongue, lexicon, 60).find(
    (one) => one.step.id === step.id,
  );
  if (!match) return true;
  if (match.exact && wanted.unknown === 0) return false;
  if (named > 0) return wanted.unknown > named * 2 || match.part < 0.5;
  const long = wanted.words.length > 9;
  const alone =
    !(denied && wanted.words.length <= 6) &&
    wanted.parts.size === 1 &&
    wanted.classes.length === 0 &&
    !wanted.calledDone &&
    wanted.figures.length === 0;
  return wanted.unknown > (wanted.parts.size > 1 ? 1 : 0) || match.part < 0.6 || long || alone;
}

/** "Bolted for the door": beside a verb without a part stands a thing that is none of the plan. */
const besideVerb = (message: Message): boolean =>
  message.clauses.length === 1 &&
  message.tokens.some(
    (token, at) =>
      token.kind === 'word' &&
      token.entry !== undefined &&
      !token.entry.stop &&
      !token.entry.plan &&
      token.entry.forms.length === 0 &&
      token.entry.side === undefined &&
      message.tongue.common.has(token.word) &&
      !message.figures.some((one) => one.from <= at && at < one.to) &&
      !message.clauses.some((one) =>
        one.pieces.some((piece) => piece.cues.some((cue) => cue.from <= at && at < cue.to)),
      ),
  );

/** A verb alone belongs to a step whose title says this work, and not to one that has it by the way. */
const worksSo = (step: StepPhrases, wanted: Wanted): boolean =>
  wanted.classes.length === 0 ||
  step.phrases.some(
    (phrase) => phrase.from !== 'report' && nearest(wanted.classes, phrase.classes) >= 0.5,
  );

/** Words of a message that are no part of a figure or place. */
export const wordsBeside = (message: Message): number =>
  message.tokens.filter(
    (token, at) =>
      token.kind === 'word' && !message.figures.some((one) => one.from <= at && at < one.to),
  ).length;

/** Several numbers, or one with its noun, that are positions of the step: "pull 5 and 6". */
function placesFit(step: StepPhrases, wanted: Wanted, lexicon: Lexicon): boolean {
  const figures = wanted.figures.filter(
    (figure) => figure.kind === 'positions' && (figure.queries.length > 1 || !figure.bare),
  );
  if (figures.length === 0) return false;
  const places = placesSaid(step, figures, lexicon, undefined);
  return places.positions.length > 0 && !places.unknown;
}

/** "Pipes off, ends capped", "out at last, carboned up solid": words beside a report that are no step of their own. */
function onlyAside(
  step: StepPhrases,
  wanted: Wanted,
  clause: Clause,
  stance: Stance,
  message: Message,
  lexicon: Lexicon,
): boolean {
  if (stance.kind === 'started' && clause.inherited.size > 0 && wanted.classes.length > 0) {
    // "Not on yet, it was just resting there": how the part lies begins nothing.
    const own = clause.pieces.some((piece) => piece.parts.size > 0);
    const match = rankSteps(wanted, message.tongue, lexicon, 60).find(
      (one) => one.step.id === step.id,
    );
    return !own && match !== undefined && match.action < 0.5;
  }
  if (stance.kind !== 'done' && stance.kind !== 'partial') return false;
  if (wanted.classes.length === 0) return false;
  if (clause.inherited.size === 0 || clause.pieces.some((piece) => piece.parts.size > 0)) {
    // "Turned the flywheel by hand" measures nothing.
    const match = rankSteps(wanted, message.tongue, lexicon).find((one) => one.step.id === step.id);
    return (
      match !== undefined &&
      match.action < 0.45 &&
      !match.exact &&
      !wanted.calledDone &&
      verbsOf(clause).some((verb) => verb.form === 'past' && verb.classes.length > 0) &&
      !wanted.figures.some((figure) => /^(quantity|stage|code|count|number)$/.test(figure.kind))
    );
  }
  if (wanted.particleOnly && wanted.unknown > 0) return true;
  const match = rankSteps(wanted, message.tongue, lexicon, 60).find(
    (one) => one.step.id === step.id,
  );
  return match !== undefined && !match.exact && match.action <= 0.6;
}
