// One clause to its acts: stance by the rules, step by the words, positions and figures by what the step asks.
import type { Act, ActKind } from '../../../shared/reading.ts';
import { type Clause, figuresOf, namesPart } from '../clause.ts';
import type { ReadContext } from '../context.ts';
import type { Lexicon } from '../lexicon.ts';
import { quantityFit } from '../match/figure-fit.ts';
import { type Elsewhere, figureOfAnother } from '../match/figure-of-another.ts';
import { figuresSaid } from '../match/figures-said.ts';
import type { StepPhrases } from '../match/phrases.ts';
import type { Match } from '../match/score.ts';
import type { Message } from '../message.ts';
import type { Figure } from '../scan/figure.ts';
import type { Stance } from '../stance.ts';
import {
  addFigureElsewhere,
  addLeftOut,
  addNotYetBeyond,
  addWithNew,
  isFitting,
} from './beside-report.ts';
import { isShaky } from './certain-enough.ts';
import { type Choice, type ChosenStep, chooseStep, weightOf } from './choose-step.ts';
import { doubtLast, leavesPartOpen, mergesInto, withdrawGoodResult } from './earlier-acts.ts';
import { makeAct } from './make-act.ts';
import { passedOver } from './passed-over.ts';
import { placesOf } from './places-of-act.ts';
import { anyPlaces, asked, candidateOf } from './questions.ts';
import type { ReadSoFar } from './so-far.ts';
import { enoughForWeak } from './weak-report.ts';
import { type Work, workOf } from './work.ts';

/** Reads one clause with its stance, and adds its acts. */
export function readClause(
  clause: Clause,
  stance: Stance,
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
  soFar: ReadSoFar,
): void {
  const pairs = pairsIn(figuresOf(clause));
  if (pairs.length < 2) {
    readOne(clause, stance, message, lexicon, context, soFar);
    return;
  }
  // "0.05 left, 0.08 right": each value goes with its place.
  for (const pair of pairs) {
    const both = figuresOf(clause).filter((one) => one.kind === 'all' && one.pair === true);
    const others = new Set([...both, ...pairs.filter((one) => one !== pair).flat()]);
    const pieces = clause.pieces.map((piece) => ({
      ...piece,
      figures: piece.figures.filter((figure) => !others.has(figure)),
    }));
    readOne({ ...clause, pieces }, stance, message, lexicon, context, soFar);
  }
}

/** Value and place in turn: two pairs or more. */
function pairsIn(figures: readonly Figure[]): Figure[][] {
  const all = figures.filter((figure) =>
    /^(quantity|number|count|code|positions)$/.test(figure.kind),
  );
  // "Wheels on both sides, 10 nuts left 9 right": both is said again by each.
  const told = all.length % 2 === 1 && all[0]?.kind === 'positions' ? all.slice(1) : all;
  if (told.length < 4 || told.length % 2 !== 0) return [];
  const place = (figure: Figure | undefined) =>
    figure?.kind === 'positions' && (!figure.bare || figure.queries.length === 1);
  const placeFirst = place(told[0]);
  const pairs: Figure[][] = [];
  for (let i = 0; i < told.length; i += 2) {
    const [a, b] = [told[i], told[i + 1]];
    if (!a || !b || place(a) !== placeFirst || place(b) === placeFirst) return [];
    pairs.push([a, b]);
  }
  return pairs;
}

/** "Hose off and plugged": what is plugged behind its coming off is closed, and not fitted. */
function closedBehind({ clause, message, wanted }: Work): boolean {
  if (clause.inherited.size === 0 || namesPart(clause)) return false;
  if (!wanted.lemmas.some((lemma) => /^(plug|cap|blank|bung|seal|tape)$/.test(lemma))) return false;
  const before = message.clauses[message.clauses.indexOf(clause) - 1];
  const off =
    before?.pieces.some((piece) =>
      [...piece.moved, ...piece.verbs.flatMap((verb) => verb.classes)].some((one) =>
        /^(remove|disconnect|loosen)$/.test(one),
      ),
    ) ?? false;
  const caps = message.tongue.steps.some((step) =>
    step.phrases.some((phrase) => phrase.from === 'title' && phrase.classes.includes('cap')),
  );
  return off && !caps && before?.sentence === clause.sentence;
}

/** "Won't come off, stuck on the dowels", "play 0.18, too much": the same once more. */
function saidOnceMore({ clause, stance, soFar }: Work): boolean {
  const before = soFar.acts.at(-1);
  return (
    before !== undefined &&
    !namesPart(clause) &&
    ((stance.kind === 'blocked' && before.kind === 'blocked') ||
      (stance.kind === 'finding' && before.kind === 'done' && before.quantity !== undefined) ||
      (stance.handTight === true && before.kind === 'done' && isFitting(soFar.focus?.step)))
  );
}

function readOne(
  clause: Clause,
  stance: Stance,
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
  soFar: ReadSoFar,
): void {
  if (stance.kind === 'nothing') return;
  const work = workOf(clause, stance, message, lexicon, context, soFar);
  if (saidOnceMore(work) || closedBehind(work)) return;
  const choice: Choice = stance.step
    ? { step: stance.step, assumed: [], fromContext: false }
    : chooseStep(
        work.unnamed,
        message,
        lexicon,
        soFar.focus,
        stance,
        clause.around,
        clause.inherited.size > 0,
      );
  if (stance.kind === 'finding' && !namesPart(clause)) withdrawGoodResult(soFar);
  if (!choice) readNoStep(work);
  else if ('several' in choice) askWhichStep(work, choice.several);
  else readStep(work, choice);
}

export const addFinding = ({ soFar, clause, lexicon, words, span: place }: Work): void => {
  soFar.acts.push({
    kind: 'finding',
    positions: anyPlaces(figuresOf(clause), lexicon),
    note: words,
    assumed: [],
    span: place,
  });
};

/** Words that belong to no step: something found is kept, a "still" doubts what was said before it. */
function readNoStep(work: Work): void {
  const { stance, soFar, wanted, words } = work;
  if (stance.still) doubtLast(soFar);
  const beside = soFar.acts.some((act) => /^(done|partial)$/.test(act.kind));
  if (
    stance.kind === 'finding' &&
    wanted.unknown < 3 &&
    (wanted.parts.size > 0 || (beside && wanted.unknown > 0))
  ) {
    addFinding(work);
    soFar.explained.push(`"${words}": something found (${stance.rule}).`);
  }
}

/** Words that fit several steps: one question, unless they are a remark beside a plain report. */
function askWhichStep(work: Work, several: readonly Match[]): void {
  const { stance, soFar, wanted, clause, lexicon, context, words } = work;
  // Beside a plain report a remark without a verb is no reason for a question.
  const plainly = soFar.acts.some((act) => act.step !== undefined && act.kind !== 'unsure');
  if (stance.weak && plainly) return;
  if (
    stance.weak &&
    !(wanted.unknown === 0 && wanted.words.length <= 6 && wanted.parts.size > 1) &&
    !several.some((one) => enoughForWeak(stance, one.step, clause, lexicon))
  )
    return;
  if (stance.kind === 'finding') {
    addFinding(work);
    return;
  }
  if (stance.kind !== 'done' && stance.kind !== 'partial' && stance.kind !== 'unsure') return;
  const candidates = several.map((one) =>
    candidateOf(one.step, figuresOf(clause), lexicon, context),
  );
  soFar.acts.push({ kind: 'unsure', positions: [], assumed: [], candidates, span: work.span });
  soFar.explained.push(`"${words}": may be ${candidates.map((one) => one.says).join(' or ')}.`);
}

/** The acts of a clause whose step is settled. */
function readStep(work: Work, choice: ChosenStep): void {
  const { stance, clause, message, lexicon, context, soFar, wanted, words } = work;
  const step = choice.step;
  if (passedOver(work, choice)) return;
  const reports = stance.kind === 'done' || stance.kind === 'partial';
  const elsewhere = reports
    ? figureOfAnother(step, figuresOf(clause), wanted.parts, message)
    : undefined;
  // A figure that names the step leaves aside those that no step of its kind asks for.
  const figures = figuresOf(clause).filter(
    (figure) =>
      figure !== elsewhere?.figure &&
      !(
        choice.byFigure &&
        figure.kind === 'quantity' &&
        quantityFit(step.step, figure.value, figure.unit) < 0
      ),
  );
  const shaky = isShaky(work, choice, figures) || saysOpposite(step, elsewhere);
  if (choice.fromContext && soFar.focus && soFar.focus.from !== '')
    soFar.relied.add(soFar.focus.from);
  const { places, several, excepted } = placesOf(work, choice, figures);
  for (const part of figuresSaid(step.step, figures, places.unused)) {
    const made = makeAct(work, choice, part, figures, places, several, excepted.length > 0);
    if (
      shaky &&
      made.kind === 'done' &&
      !choice.fromContext &&
      (wanted.parts.size === 0 || wanted.unknown > 1)
    )
      return;
    const act = asked(made, step, shaky);
    if (leavesPartOpen(soFar, act, wanted)) continue;
    if (mergesInto(soFar.acts, act)) continue;
    soFar.said.set(act, wanted);
    soFar.acts.push(act);
    soFar.explained.push(explain(act, words, stance.rule, step));
  }
  if (stance.kind === 'done') {
    addWithNew(step, places.positions, clause, message, lexicon, work.span, soFar);
    addNotYetBeyond(step, clause, message, work.span, soFar);
  }
  if (elsewhere)
    addFigureElsewhere(elsewhere, places.positions, lexicon, context, work.span, soFar);
  if (excepted.length > 0 && stance.kind === 'done') addLeftOut(work, step, excepted);
  const told = soFar.acts.at(-1);
  soFar.focus = {
    step,
    positions: places.positions,
    kind: stance.kind as ActKind,
    from: '',
    ...(told?.step === step.id && told.quantity ? { quantity: told.quantity } : {}),
  };
}

/** "60 Grad abgezogen": a tightening's figure beside a verb that takes something off. */
const saysOpposite = (step: StepPhrases, elsewhere: Elsewhere | undefined): boolean =>
  elsewhere?.step.step?.report?.some((ask) => ask.kind === 'tightening') === true &&
  weightOf(step) === 'safety-critical' &&
  step.phrases.some(
    (phrase) =>
      phrase.from === 'title' && phrase.classes.some((one) => /^(remove|loosen)$/.test(one)),
  );

function explain(act: Act, words: string, rule: string, step: StepPhrases): string {
  const where = act.positions.length > 0 ? ` at ${act.positions.join(', ')}` : '';
  const assumed = act.assumed.length > 0 ? ` Assumed: ${act.assumed.join('; ')}.` : '';
  return `"${words}": ${act.kind}, "${step.title}"${where} (${rule}).${assumed}`;
}
