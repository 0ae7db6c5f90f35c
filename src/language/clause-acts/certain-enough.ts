// How certain the words must be: a grave step needs words that name it.

import { type Clause, hasCue } from '../clause.ts';
import type { Lexicon } from '../lexicon.ts';
import { figureFit, stageFigure } from '../match/figure-fit.ts';
import type { StepPhrases } from '../match/phrases.ts';
import { rankSteps, type Wanted } from '../match/score.ts';
import type { Message } from '../message.ts';
import type { Figure } from '../scan/figure.ts';
import { MAY_NAME_PART, TOUCHES_PART } from '../thresholds.ts';
import { FASTENERS } from './choose-fasteners.ts';
import { type ChosenStep, weightOf } from './choose-step.ts';
import { wordsBeside } from './passed-over.ts';
import { asksSize, notSized } from './weak-report.ts';
import type { Work } from './work.ts';

/** Whether a grave step is not certain enough from these words: then it is asked about. */
export function isShaky(work: Work, choice: ChosenStep, figures: readonly Figure[]): boolean {
  const another = work.by !== undefined && work.by.toLowerCase() !== work.context.by?.toLowerCase();
  const { stance, clause, message, lexicon, wanted, unnamed, by } = work;
  const step = choice.step;
  const aside = unnamed.unknown > 0 ? unknownAside(clause) : 0;
  const named = aside > 0 ? { ...unnamed, unknown: unnamed.unknown - aside } : unnamed;
  if (stance.step || choice.byFigure || stance.kind !== 'done') return false;
  if (weightOf(step) !== 'safety-critical') return false;
  return (
    (clause.pieces.some((piece) => piece.strangerBefore) && by === undefined) ||
    clause.pieces.some(belongsElsewhere) ||
    guessedVerb(clause, wanted) ||
    strandedState(clause) ||
    asGood(step, wanted, message, lexicon, choice.fromContext) ||
    (stance.rule === 'no-fault-found' &&
      asksSize(step) &&
      figures.every(notSized) &&
      !hasCue(clause, 'good') &&
      !hasCue(clause, 'finished')) ||
    !certain(step, named, message, lexicon, choice.fromContext, stance.weak ?? false, another)
  );
}

/** "Lock nut 600 Nm" is none of the wheel nuts: what stands right before the fastener says whose it is. */
function ofOtherName(step: StepPhrases, wanted: Wanted): boolean {
  const own = new Set(
    step.phrases.flatMap((phrase) => [...phrase.parts.keys(), ...phrase.words, ...phrase.lemmas]),
  );
  return wanted.words.some((word, at) => {
    const before = wanted.words[at - 1];
    if (!FASTENERS.test(word.root) || before === undefined) return false;
    return (
      !before.small &&
      !before.past &&
      (wanted.parts.get(before.root) ?? 0) > 0 &&
      !own.has(before.root)
    );
  });
}

/** Pieces set off from the report by a mark. */
const SET_OFF = /^[,.;:!()\n-]$/;

/** "Road test done, floats like a duck": strangers behind a report, set off from it, and nothing else said there. */
function unknownAside(clause: Clause): number {
  const report = clause.pieces.findIndex(
    (piece) =>
      piece.parts.size > 0 &&
      piece.unknown.length === 0 &&
      (piece.moved.length > 0 ||
        piece.verbs.some((verb) => !verb.maybeNoun) ||
        piece.cues.some((cue) => cue.name === 'finished')),
  );
  if (report < 0) return 0;
  return clause.pieces
    .slice(report + 1)
    .filter(
      (piece) =>
        SET_OFF.test(piece.joint) &&
        piece.parts.size === 0 &&
        piece.cues.length === 0 &&
        piece.figures.length === 0,
    )
    .reduce((sum, piece) => sum + piece.unknown.length, 0);
}

/**
 * A safety-critical step needs words that name it: a word of its part that is not shared by half the plan, no
 * strangers among them, and for an independent check the word that makes it one.
 */
export function certain(
  step: StepPhrases,
  wanted: Wanted,
  message: Message,
  lexicon: Lexicon,
  fromContext: boolean,
  stanceIsWeak: boolean,
  another = false,
): boolean {
  if (fromContext) return wanted.unknown === 0;
  const match = rankSteps(wanted, message.tongue, lexicon).find((one) => one.step.id === step.id);
  if (!match) return true;
  const strangers = wanted.unknown;
  if (wanted.shortMend) return false;
  // "Wheel nuts checked" tightens none; "people clear, checked" says what the plan says.
  const looksOnly =
    wanted.classes.length > 0 &&
    wanted.classes.every((one) => one === 'check') &&
    step.step?.report?.some((ask) => ask.kind === 'tightening') === true;
  const worded = match.reports || match.action >= 0.74 || !looksOnly;
  if (match.exact && worded && strangers === 0) return true;
  if (step.step?.check !== undefined) {
    const own = step.phrases
      .filter((phrase) => phrase.from !== 'report')
      .flatMap((phrase) => phrase.words);
    const marks = own.filter((word) =>
      /^(second|independent|2nd|zweite|unabhängig\w*)$/.test(word),
    );
    // "Gus has looked over the cable nut": a person who is named makes it a second one.
    const marked =
      wanted.words.some((word) => marks.includes(word.root)) ||
      (another && wanted.classes.includes('check'));
    // "Ade checked the caliper bolts and the wheel nuts": all that is to be checked was looked at.
    const own1 = wanted.words.some((word) => /^(own|my|me|myself)$/.test(word.root));
    const looked = wanted.classes.includes('check') && match.part >= 0.8 && strangers === 0;
    if (looked && !own1 && wanted.parts.size >= 3) return true;
    if (marks.length > 0 && !marked) return false;
    if (another && marked && !own1 && match.part >= 0.55 && strangers === 0) return true;
    if (marked && match.part >= 0.95 && strangers === 0) return true;
  }
  if (wanted.parts.size === 0) {
    const sized =
      wanted.figures.some((figure) => /^(quantity|stage|code)$/.test(figure.kind)) &&
      figureFit(step, wanted.figures, lexicon) > 0;
    return (
      match.score >= 0.46 &&
      strangers === 0 &&
      !wanted.mendedVerb &&
      (sized || wordsBeside(message) <= 2 || message.words.length <= 3)
    );
  }
  // "All ten nuts tight": whose nuts they are nobody said.
  const roots = [...wanted.parts]
    .filter(([, value]) => value >= TOUCHES_PART)
    .map(([root]) => root);
  if (
    roots.length > 0 &&
    roots.every((root) => FASTENERS.test(root)) &&
    (strangers > 0 ||
      figureFit(
        step,
        wanted.figures.filter((figure) => /^(quantity|stage|number)$/.test(figure.kind)),
        lexicon,
      ) <= 0)
  )
    return false;
  if (ofOtherName(step, wanted)) return false;
  // "Brakes done" names half of "set the parking brake and chock the wheels".
  const half = wanted.parts.size === 1 && match.part < 0.85 && wanted.classes.length === 0;
  if (half && !match.exact && wanted.figures.length === 0) return false;
  const named = wanted.parts.size >= 2 && match.part >= 0.95 && strangers <= 2;
  if (named && wanted.classes.length === 0 && (wanted.calledDone || stanceIsWeak)) return true;
  const measured =
    strangers === 0 &&
    match.part >= 0.6 &&
    figureFit(
      step,
      wanted.figures.filter((figure) => /^(quantity|stage)$/.test(figure.kind)),
      lexicon,
    ) > 0;
  // "Body up": everyday words, but the plan's own, with its own work and nothing else in the message.
  const bareWords = match.action === 1 && match.part >= 0.75 && isBare(message);
  if (
    !bareWords &&
    ![...wanted.parts].some(
      ([root, value]) => value >= MAY_NAME_PART && !message.tongue.common.has(root),
    ) &&
    (strangers > 0 ||
      match.part < 0.6 ||
      (wanted.parts.size === 1 &&
        !match.exact &&
        !(match.part >= 0.95 && match.action === 1 && wanted.lemmas.length > 0) &&
        figureFit(step, wanted.figures, lexicon) <= 0))
  )
    return false;
  // "Blown cover off top of oil tank": everyday words beside the one word of the plan belong to something else.
  const beside = wanted.words.filter(
    (word) => !word.small && !wanted.parts.has(word.root) && message.tongue.common.has(word.root),
  );
  if (wanted.parts.size === 1 && beside.length >= 2 && !match.exact) return false;
  // "Unions 20 then 48": each is the very figure of a stage.
  const numbers = wanted.figures.flatMap((one) => (one.kind === 'number' ? [one.value] : []));
  const staged =
    strangers === 0 &&
    numbers.length > 0 &&
    match.part >= 0.8 &&
    numbers.every((value) => value > 12 && stageFigure(step.step, value, undefined) > 0);
  if (stanceIsWeak && match.part < 0.85 && !match.exact && !measured && !staged) return false;
  if (wanted.classes.length > 0 && match.action < 0.74 && !(match.exact && worded) && !measured)
    return false;
  if (wanted.classes.length === 0 && wanted.figures.length === 0)
    return match.part >= 0.7 && strangers === 0;
  return match.part >= (strangers > 0 || wanted.particleOnly ? 0.75 : 0.55) && match.action >= 0.3;
}

/** "Hub is warm after drive, felnt left": a verb that was mended, and the part comes from the clause before. */
const guessedVerb = (clause: Clause, wanted: Wanted): boolean =>
  wanted.mendedVerb &&
  clause.inherited.size > 0 &&
  clause.pieces.every((piece) => piece.parts.size === 0 || piece.verbs.every((v) => v.maybeNoun));

/** "Bell bolts and tight": a state joined to a bare name by "and" is a slip of something else. */
function strandedState(clause: Clause): boolean {
  const [first, second] = clause.pieces;
  return (
    first !== undefined &&
    second !== undefined &&
    /^(and|und)$/.test(second.joint) &&
    first.parts.size > 0 &&
    first.moved.length === 0 &&
    first.verbs.length === 0 &&
    first.figures.length === 0 &&
    second.moved.length > 0 &&
    second.parts.size === 0 &&
    second.verbs.length === 0 &&
    second.figures.length === 0
  );
}

/** A short message in which no word is strange or mended. */
const isBare = (message: Message): boolean =>
  message.words.length <= 8 &&
  message.clauses.every((clause) => clause.pieces.every((piece) => piece.unknown.length === 0)) &&
  message.tokens.every((token) => token.mended === undefined);

/** "Air out of the tyre": what it came out of is nothing of this plan. */
function belongsElsewhere(piece: Clause['pieces'][number]): boolean {
  for (let i = piece.from; i + 1 < piece.to; i += 1) {
    if (!/^(of|from|aus|vom|von)$/.test(piece.tokens[i]?.word ?? '')) continue;
    let k = i + 1;
    while (
      k < piece.to &&
      /^(the|a|an|my|that|this|dem|der|den|einem)$/.test(piece.tokens[k]?.word ?? '')
    )
      k += 1;
    const thing = piece.tokens[k];
    if (
      piece.unknown.includes(thing?.word ?? '') ||
      (thing?.mended !== undefined && !thing.entry?.plan)
    )
      return true;
  }
  return false;
}

/** Two steps that the words fit in full, told apart only by their order: "wheel is down" may be off or on the ground. */
function asGood(
  step: StepPhrases,
  wanted: Wanted,
  message: Message,
  lexicon: Lexicon,
  fromContext: boolean,
): boolean {
  const last = wanted.words.filter((word) => !word.small || word.root === 'on').at(-1)?.root ?? '';
  const back = wanted.words.some((word) => /^(back|again)$/.test(word.root));
  if (fromContext || !wanted.particleOnly || back || !/^(on|down|ab|an)$/.test(last)) return false;
  const [best, second] = rankSteps(wanted, message.tongue, lexicon);
  return (
    best?.step.id === step.id &&
    second !== undefined &&
    second.part >= 0.99 &&
    second.action === 1 &&
    best.score - second.score < 0.13
  );
}
