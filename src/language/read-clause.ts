// One clause to its acts: stance by the rules, step by the words, positions and figures by what the step asks.

import type { Weight } from '../../shared/plan.ts';
import type { Act, ActKind, Candidate, Quantity } from '../../shared/reading.ts';
import { isWorkBeside, onlyFastenersSaid } from './beside-work.ts';
import {
  type Clause,
  endOf,
  figuresOf,
  hasCue,
  movedOf,
  newMemo,
  saidIn,
  startOf,
  verbsOf,
} from './clause.ts';
import type { ReadContext } from './context.ts';
import type { Lexicon } from './lexicon.ts';
import { withAttributes } from './match/attributes-said.ts';
import { bareValueFit, figureFit, quantityFit } from './match/figure-fit.ts';
import { type Elsewhere, figureOfAnother, stepsBehind } from './match/figure-of-another.ts';
import { figuresSaid, withFigures } from './match/figures-said.ts';
import { against, nearest } from './match/kinship.ts';
import { oneOfASide } from './match/one-of-a-side.ts';
import type { StepPhrases } from './match/phrases.ts';
import { allowedPlaces, placesSaid, setOfStep } from './match/places-said.ts';
import { acrossFrom } from './match/positions.ts';
import { type Match, rankSteps, type Wanted } from './match/score.ts';
import type { Message } from './message.ts';
import type { Figure } from './scan/figure.ts';
import type { Stance } from './stance.ts';
import { ACCEPT, ASK_FROM, CANDIDATES, LEAD } from './thresholds.ts';
import { whenSaid } from './when-said.ts';
import { personSaid } from './who-said.ts';

/** What was said last, in this message or before it: the step that "and 5" goes on with. */
export type Focus = {
  readonly step: StepPhrases;
  readonly positions: readonly string[];
  readonly kind: ActKind;
  /** The message it came from; empty for this one. */
  readonly from: string;
  readonly stage?: number;
  /** The figure reported with it, which "same on the other side" says again. */
  readonly quantity?: Quantity;
};

export type ReadSoFar = {
  readonly acts: Act[];
  readonly explained: string[];
  readonly relied: Set<string>;
  /** What the words of each act offered for its step. */
  readonly said: Map<Act, Wanted>;
  focus: Focus | undefined;
};

/** Everything the clause offers for the match of a step. */
export function wantedOf(clause: Clause): Wanted {
  const memo = clause.memo;
  if (memo.of === clause && memo.value) return memo.value;
  const made = makeWanted(clause);
  memo.of = clause;
  memo.value = made;
  return made;
}

function makeWanted(clause: Clause): Wanted {
  const parts = new Map<string, number>();
  const main = clause.pieces.filter(speaks);
  const named = main.some((piece) => [...piece.parts.values()].some((value) => value >= 0.35));
  for (const piece of clause.pieces) {
    // "Checked the caliper bolts and the wheel nuts": a second object counts as the first.
    const object = /^(and|&|\+)$/.test(piece.joint) && piece.figures.length === 0;
    const aside = named && !speaks(piece) && piece.from > (main[0]?.from ?? 0);
    const strength = aside ? (object ? 0.9 : 0.35) : 1;
    for (const [root, value] of piece.parts)
      parts.set(root, Math.max(value * strength, parts.get(root) ?? 0));
  }
  if (![...parts.values()].some((value) => value >= 0.3)) parts.clear();
  if (parts.size === 0 || !named)
    for (const [root, value] of clause.inherited)
      parts.set(root, Math.max(value * 0.9, parts.get(root) ?? 0));
  const verbs = [...verbsOf(clause), ...(clause.lent?.verbs ?? [])];
  const real = verbs.filter((verb) => !verb.maybeNoun || verb.form !== 'base');
  // "P0203 came back": a code is read again, nothing was fitted.
  const coded = figuresOf(clause).some((figure) => figure.kind === 'trouble-code');
  const moved = coded ? [] : [...movedOf(clause), ...(clause.lent?.moved ?? [])];
  const used = real.length > 0 ? real : moved.length > 0 ? [] : verbs;
  return {
    memo: newMemo(),
    classes: [...new Set([...used.flatMap((verb) => verb.classes), ...moved])],
    lemmas: verbs.map((verb) => verb.lemma),
    parts,
    unknown: clause.pieces.reduce((sum, piece) => sum + piece.unknown.length, 0),
    figures: figuresOf(clause),
    words: saidIn(clause),
    shortMend: clause.pieces.some((piece) =>
      piece.verbs.some(
        (verb) => (piece.tokens[verb.at]?.mended?.length ?? 9) <= 4 && verb.form === 'past',
      ),
    ),
    mendedVerb: clause.pieces.some((piece) =>
      piece.verbs.some((verb) => piece.tokens[verb.at]?.mended !== undefined),
    ),
    particleOnly: real.length === 0 && moved.length > 0,
    calledDone: hasCue(clause, 'finished') || clause.pieces.some((piece) => piece.tick),
  };
}

const speaks = (piece: Clause['pieces'][number]) =>
  piece.moved.length > 0 ||
  piece.verbs.some((verb) => !verb.maybeNoun) ||
  piece.tick ||
  piece.cues.some((cue) =>
    /^(finished|good|not|not-yet|left-to-do|future|later|starting)$/.test(cue.name),
  );

const weightOf = (step: StepPhrases): Weight => step.step?.weight ?? 'routine';

type Choice =
  | {
      step: StepPhrases;
      assumed: string[];
      fromContext: boolean;
      /** A figure that only this step has names it as well as words do. */
      byFigure?: true;
    }
  | { several: readonly Match[] }
  | undefined;

/** The name of a person is no part of the vehicle. */
function withoutName(wanted: Wanted, by: string): Wanted {
  const parts = new Map(wanted.parts);
  parts.delete(by.toLowerCase());
  return {
    ...wanted,
    parts,
    unknown: Math.max(0, wanted.unknown - (parts.size === wanted.parts.size ? 1 : 0)),
  };
}

/** What a stance turns around: a cover still on is not off, hand tight is not tightened. */
function adapted(wanted: Wanted, stance: Stance): Wanted {
  if (stance.still) return { ...wanted, classes: against(wanted.classes), lemmas: [], words: [] };
  if (/^(waiting-for|out-of-stock|turned-up)$/.test(stance.rule))
    return { ...wanted, classes: ['fit', 'renew', 'fill'], words: [], lemmas: [] };
  // "How much oil does it take": what goes in.
  if (
    stance.kind === 'asks' &&
    wanted.words.some((word) => /^(take|hold|put)$/.test(word.root)) &&
    wanted.words.some((word) => /^(much|many|lot)$/.test(word.root))
  )
    return { ...wanted, classes: ['fill', 'prime'] };
  if (stance.handTight) return { ...wanted, classes: ['tighten'], words: [] };
  // What is stuck without a word of the work is what should have come off.
  if (stance.rule === 'cannot') {
    const stuck = wanted.words.some((word) =>
      /^(off|out|budge|move|shift|undo|stuck|seiz|seized|free|pop|part)$/.test(word.root),
    );
    if (wanted.classes.length === 0 || stuck)
      return { ...wanted, classes: ['remove', 'loosen', 'disconnect'] };
  }
  return wanted;
}

/** The step a clause is about, or those between which it does not decide. */
function chooseStep(
  wanted: Wanted,
  message: Message,
  lexicon: Lexicon,
  focus: Focus | undefined,
  stance: Stance,
  around: ReadonlyMap<string, number>,
  inherits: boolean,
): Choice {
  const first = rankSteps(wanted, message.tongue, lexicon);
  const named = wanted.parts.size > 0;
  const shown = shownBy(wanted, focus);
  if (shown) return { step: shown, assumed: [], fromContext: false, byFigure: true };
  const torn =
    first[0] !== undefined &&
    first[1] !== undefined &&
    first[0].score - first[1].score < LEAD['safety-critical'];
  const theirs = ofTheirPart(wanted, focus, stance, message);
  if (theirs) return { step: theirs, assumed: [], fromContext: false };
  const ranked =
    named && around.size > 0 && (torn || (first[0]?.score ?? 0) < ACCEPT.routine)
      ? withAround(first, wanted, around, message, lexicon)
      : first;
  const best = ranked[0];
  if (!named) return withoutPart(ranked, wanted, focus, stance.weak ?? false, message);
  if (!best || best.score < ASK_FROM) return undefined;
  const sized = takesFigure(ranked, wanted, stance.kind === 'finding' ? 0.35 : 0.08);
  if (sized) return { step: sized, assumed: [], fromContext: false };
  const graver = stance.kind === 'done' || stance.kind === 'partial';
  const weight = weightOf(best.step);
  const second = ranked[1];
  const lead = second ? best.score - second.score : 1;
  const accept = graver ? ACCEPT[weight] : ASK_FROM;
  if (
    inherits &&
    focus &&
    graver &&
    ranked.some(
      (one) => one.step.id === focus.step.id && best.score - one.score < 0.16 && one.action >= 0.5,
    )
  )
    return { step: focus.step, assumed: [], fromContext: false };
  if (best.score >= accept && lead >= (graver ? LEAD[weight] : 0.01))
    return { step: best.step, assumed: [], fromContext: false };
  const close = ranked.filter((one) => best.score - one.score < (inherits ? 0.16 : LEAD[weight]));
  const inFocus = close.find((one) => one.step.id === focus?.step.id);
  if (inFocus && best.score >= accept)
    return {
      step: inFocus.step,
      assumed: [`step: ${inFocus.step.title}, spoken of before`],
      fromContext: true,
    };
  if (!graver && best.score >= accept) return { step: best.step, assumed: [], fromContext: false };
  if (best.part < 0.5 && !best.exact) return undefined;
  return { several: close.slice(0, CANDIDATES) };
}

/** "Belt tension 10 mm": of steps as near as one another, the one that asks for a figure of this kind. */
function takesFigure(
  ranked: readonly Match[],
  wanted: Wanted,
  reach: number,
): StepPhrases | undefined {
  const [best, second] = ranked;
  if (!best || !second || best.score - second.score >= reach) return undefined;
  const figures = wanted.figures.flatMap((figure) => (figure.kind === 'quantity' ? [figure] : []));
  if (figures.length === 0) return undefined;
  const takes = ranked.filter(
    (one) =>
      best.score - one.score < Math.max(0.16, reach) &&
      one.action >= 0.5 &&
      figures.every((figure) => quantityFit(one.step.step, figure.value, figure.unit) > 0),
  );
  return takes.length === 1 ? takes[0]?.step : undefined;
}

const INSTRUMENT = /^(gauge|tester|dial|meter|thermometer|display|laptop|clock|manometer|tool)$/;

/** "Air dumped, gauge on 0": what an instrument shows is the figure of the work in hand. */
function shownBy(wanted: Wanted, focus: Focus | undefined): StepPhrases | undefined {
  if (!focus || focus.from !== '' || wanted.parts.size > 1) return undefined;
  const shown = wanted.words.some((word) => INSTRUMENT.test(word.root));
  const others = [...wanted.parts.keys()].some((root) => !INSTRUMENT.test(root));
  if (!shown || others) return undefined;
  const fits = wanted.figures.some((figure) =>
    figure.kind === 'quantity'
      ? quantityFit(focus.step.step, figure.value, figure.unit) > 0
      : figure.kind === 'number' && bareValueFit(focus.step.step, figure.value) > 0,
  );
  return fits ? focus.step : undefined;
}

/** Words for what holds any part: whose they are is told by what was spoken of before. */
const FASTENERS = /^(bolt|nut|screw|stud|clip|fastener|schraube|schraub|mutter)$/;

/** "Gearbox in, bolts finger tight": the bolts are those that are tightened once it is in. */
function ofTheirPart(
  wanted: Wanted,
  focus: Focus | undefined,
  stance: Stance,
  message: Message,
): StepPhrases | undefined {
  if (!focus || focus.from !== '' || wanted.unknown > 0) return undefined;
  const roots = [...wanted.parts].filter(([, value]) => value > 0.9).map(([root]) => root);
  if (roots.length === 0 || !roots.every((root) => FASTENERS.test(root))) return undefined;
  const bare = wanted.classes.length === 0 && !wanted.calledDone && stance.kind !== 'done';
  if (!bare && !wanted.classes.includes('tighten')) return undefined;
  const tightens = (one: StepPhrases) => one.step?.report?.some((ask) => ask.kind === 'tightening');
  const fits = focus.step.phrases.some(
    (phrase) =>
      phrase.from === 'title' && phrase.classes.some((one) => /^(fit|renew|connect)$/.test(one)),
  );
  if (!fits) return undefined;
  if (tightens(focus.step)) return focus.step;
  for (const one of stepsBehind(focus.step, message))
    if (
      tightens(one) &&
      one.phrases.some((phrase) => roots.every((root) => phrase.parts.has(root)))
    )
      return one;
  return undefined;
}

/** "Pump on, bolts to 25": the bolts are the pump's, where the words alone leave it open. */
function withAround(
  first: readonly Match[],
  wanted: Wanted,
  around: ReadonlyMap<string, number>,
  message: Message,
  lexicon: Lexicon,
): readonly Match[] {
  const parts = new Map([...around].map(([root, value]) => [root, value * 0.5]));
  for (const [root, value] of wanted.parts) parts.set(root, value);
  const close = new Set(
    first.filter((one) => (first[0]?.score ?? 0) - one.score < 0.15).map((one) => one.step.id),
  );
  const again = rankSteps({ ...wanted, parts }, message.tongue, lexicon, 12).filter((one) =>
    close.has(one.step.id),
  );
  return again.length > 0 ? again : first;
}

/** A verb or a figure alone: the step spoken of before, or the only one it suits. */
function withoutPart(
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

const classesFree = (wanted: Wanted): boolean =>
  wanted.classes.length === 0 || wanted.classes.includes('tighten');

/** "65 on all four": the only step of the plan with this torque for so many fasteners. */
function byTheirFigure(wanted: Wanted, message: Message): StepPhrases | undefined {
  const count = wanted.figures.flatMap((figure) =>
    figure.kind === 'all' && figure.count !== undefined ? [figure.count] : [],
  )[0];
  const values = wanted.figures.flatMap((figure) =>
    figure.kind === 'number' || (figure.kind === 'quantity' && figure.unit === 'N.m')
      ? [figure.value]
      : [],
  );
  if (count === undefined || values.length === 0) return undefined;
  const found = message.tongue.steps.filter((one) =>
    one.step?.report?.some(
      (ask) =>
        ask.kind === 'tightening' &&
        ask.fasteners === count &&
        values.every((value) => ask.stages.some((stage) => stage.torque === value)),
    ),
  );
  return found.length === 1 ? found[0] : undefined;
}

/** "Stage 2 done": any series of stages may be meant. */
function stagesAlone(wanted: Wanted, message: Message): readonly Match[] | undefined {
  const stages = wanted.figures.flatMap((figure) => (figure.kind === 'stage' ? figure.stages : []));
  if (stages.length === 0 || wanted.classes.length > 0 || !wanted.calledDone) return undefined;
  const most = Math.max(...stages);
  const found = message.tongue.steps.filter((one) =>
    one.step?.report?.some((ask) => ask.kind === 'tightening' && ask.stages.length >= most),
  );
  if (found.length === 0) return undefined;
  return found.map((step) => ({
    step,
    score: 0.5,
    part: 0,
    action: 0.6,
    exact: false,
    reports: false,
  }));
}

const span = (clause: Clause, message: Message): [number, number] => {
  const first = message.tokens[startOf(clause)];
  const last = message.tokens[endOf(clause) - 1];
  return [first?.from ?? 0, last?.to ?? 0];
};

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

function readOne(
  clause: Clause,
  stance: Stance,
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
  soFar: ReadSoFar,
): void {
  if (stance.kind === 'nothing') return;
  const wanted = adapted(wantedOf(clause), stance);
  const by = personSaid(clause, message, context);
  const [before] = soFar.acts.slice(-1);
  // "Won't come off, stuck on the dowels", "play 0.18, too much": the same once more.
  if (
    before !== undefined &&
    !clause.pieces.some((piece) => [...piece.parts.values()].some((value) => value >= 0.9)) &&
    ((stance.kind === 'blocked' && before.kind === 'blocked') ||
      (stance.kind === 'finding' && before.kind === 'done' && before.quantity !== undefined) ||
      (stance.handTight === true && before.kind === 'done' && isFitting(soFar.focus?.step)))
  )
    return;
  const choice: Choice = stance.step
    ? { step: stance.step, assumed: [], fromContext: false }
    : chooseStep(
        by ? withoutName(wanted, by) : wanted,
        message,
        lexicon,
        soFar.focus,
        stance,
        clause.around,
        clause.inherited.size > 0,
      );
  const place = span(clause, message);
  const words = message.raw.slice(place[0], place[1]);
  const note = stance.note ? { note: words } : {};
  if (
    stance.kind === 'finding' &&
    !clause.pieces.some((piece) => [...piece.parts.values()].some((value) => value >= 0.9))
  )
    withdrawGoodResult(soFar);
  if (!choice) {
    if (stance.still) doubtLast(soFar);
    const beside = soFar.acts.some((act) => /^(done|partial)$/.test(act.kind));
    if (
      stance.kind === 'finding' &&
      wanted.unknown < 3 &&
      (wanted.parts.size > 0 || (beside && wanted.unknown > 0))
    ) {
      soFar.acts.push({
        kind: 'finding',
        positions: anyPlaces(figuresOf(clause), lexicon),
        note: words,
        assumed: [],
        span: place,
      });
      soFar.explained.push(`"${words}": something found (${stance.rule}).`);
    }
    return;
  }
  if ('several' in choice) {
    // Beside a plain report a remark without a verb is no reason for a question.
    const plainly = soFar.acts.some((act) => act.step !== undefined && act.kind !== 'unsure');
    if (stance.weak && plainly) return;
    if (
      stance.weak &&
      !(wanted.unknown === 0 && wanted.words.length <= 6 && wanted.parts.size > 1) &&
      !choice.several.some((one) => enoughForWeak(stance, one.step, clause, lexicon))
    )
      return;
    if (stance.kind === 'finding') {
      soFar.acts.push({
        kind: 'finding',
        positions: anyPlaces(figuresOf(clause), lexicon),
        note: words,
        assumed: [],
        span: place,
      });
      return;
    }
    if (stance.kind !== 'done' && stance.kind !== 'partial' && stance.kind !== 'unsure') return;
    const candidates = choice.several.map((one) =>
      candidateOf(one.step, figuresOf(clause), lexicon, context),
    );
    soFar.acts.push({ kind: 'unsure', positions: [], assumed: [], candidates, span: place });
    soFar.explained.push(`"${words}": may be ${candidates.map((one) => one.says).join(' or ')}.`);
    return;
  }
  const step = choice.step;
  const open = !choice.fromContext && !stance.step && !choice.byFigure;
  if (open && onlyAside(step, wanted, clause, stance, message, lexicon)) return;
  const reports = stance.kind === 'done' || stance.kind === 'partial';
  if (reports && !stance.step && isWorkBeside(step, clause, message)) return;
  if (
    open &&
    stance.kind !== 'asks' &&
    tooVague(
      step,
      eased(by ? withoutName(wanted, by) : wanted, stance, clause),
      message,
      lexicon,
      stance.kind === 'not-done' && hasCue(clause, 'not-yet'),
    )
  ) {
    const plain = wanted.unknown === 0 && [...wanted.parts.values()].some((value) => value >= 0.9);
    if (stance.kind === 'finding' && plain)
      soFar.acts.push({
        kind: 'finding',
        positions: anyPlaces(figuresOf(clause), lexicon),
        note: words,
        assumed: [],
        span: place,
      });
    return;
  }
  const elsewhere = reports
    ? figureOfAnother(step, figuresOf(clause), wanted.parts, message)
    : undefined;
  const figures = figuresOf(clause).filter((figure) => figure !== elsewhere?.figure);
  const shaky =
    !stance.step &&
    !choice.byFigure &&
    stance.kind === 'done' &&
    weightOf(step) === 'safety-critical' &&
    ((clause.pieces.some((piece) => piece.strangerBefore) && by === undefined) ||
      clause.pieces.some(belongsElsewhere) ||
      asGood(step, wanted, message, lexicon, choice.fromContext) ||
      (stance.rule === 'no-fault-found' &&
        asksSize(step) &&
        figures.every(notSized) &&
        !hasCue(clause, 'good') &&
        !hasCue(clause, 'finished')) ||
      !certain(
        step,
        by ? withoutName(wanted, by) : wanted,
        message,
        lexicon,
        choice.fromContext,
        stance.weak ?? false,
      ));
  if (stance.weak && !enoughForWeak(stance, step, clause, lexicon)) return;
  if (reports && onlyBelow(step, clause)) return;
  if (choice.fromContext && soFar.focus && soFar.focus.from !== '')
    soFar.relied.add(soFar.focus.from);
  const several =
    stance.kind === 'done' ? countOfSeveral(figures, message, step, lexicon, context) : undefined;
  const named = namedBefore(step.id, soFar);
  let places = placesSaid(step, figures, lexicon, context.positions, named);
  if (
    choice.fromContext &&
    soFar.focus &&
    places.positions.length > 1 &&
    figures.some(
      (figure) =>
        figure.kind === 'positions' &&
        figure.queries.length === 1 &&
        figure.queries[0]?.sides.length === 1,
    )
  ) {
    const set = setOfStep(step, lexicon);
    const across = set
      ? soFar.focus.positions
          .flatMap((name) => acrossFrom(name, set) ?? [])
          .filter((name) => places.positions.includes(name))
      : [];
    if (across.length > 0) places = { ...places, positions: across };
  }
  if (places.missing && soFar.focus && hasCue(clause, 'other-side')) {
    const set = setOfStep(step, lexicon);
    const across = set ? soFar.focus.positions.flatMap((name) => acrossFrom(name, set) ?? []) : [];
    if (across.length > 0)
      places = {
        ...places,
        positions: across,
        missing: false,
        assumed: [`position: ${across.join(', ')}, the other side`],
      };
  }
  if (places.missing && clause.shared.length > 0) {
    const near = placesSaid(step, clause.shared, lexicon, context.positions);
    if (near.positions.length > 0)
      places = {
        ...near,
        assumed: [`position: ${near.positions.join(', ')}, said beside it`],
        unused: places.unused,
      };
  }
  if (several)
    places = {
      ...places,
      positions: several.all ? places.allowed : [],
      missing: false,
      unknown: false,
    };
  const noneOf = clause.pieces.some((piece) =>
    piece.cues.some((cue) => cue.name === 'none' && piece.tokens[cue.to - 1]?.word === 'of'),
  );
  if (places.missing && stance.kind === 'not-done' && noneOf)
    places = { ...places, positions: places.allowed, missing: false };
  const excepted = exceptedPlaces(clause, step, lexicon, context);
  if (excepted.length > 0) {
    const from = places.positions.length > 0 ? places.positions : places.allowed;
    places = {
      ...places,
      positions: from.filter((name) => !excepted.includes(name)),
      missing: false,
    };
  }
  const too = clause.pieces.some((piece) =>
    piece.tokens
      .slice(piece.from, piece.to)
      .some((token) => /^(too|also|auch|ebenfalls)$/.test(token.word)),
  );
  if (
    places.missing &&
    (choice.fromContext || too) &&
    soFar.focus &&
    soFar.focus.positions.length > 0 &&
    soFar.focus.positions.every((name) => places.allowed.includes(name))
  ) {
    const carried = soFar.focus.positions;
    places = {
      ...places,
      positions: carried,
      missing: false,
      assumed: [`position: ${carried.join(', ')}, spoken of before`],
    };
  }
  places = oneOfASide(
    places,
    figures,
    clause.pieces.flatMap((piece) => piece.tokens.slice(piece.from, piece.to)),
  );
  const parts = figuresSaid(step.step, figures, places.unused);
  const time = figures.find((figure) => figure.kind === 'time');
  const when =
    time?.kind === 'time' ? whenSaid(time, context, stance.kind === 'intends') : { assumed: [] };
  const job = figures.find((figure) => figure.kind === 'job');
  const carriesStage =
    stance.rule === 'and-the-same' && choice.fromContext && soFar.focus?.step.id === step.id;
  for (const part of parts) {
    let act: Act = {
      kind: stance.kind,
      step: step.id,
      positions: [...places.positions],
      assumed: [...choice.assumed, ...places.assumed, ...when.assumed],
      ...(when.time === undefined ? {} : { time: when.time }),
      ...(by === undefined ? {} : { by }),
      ...(job?.kind === 'job' ? { job: job.job } : {}),
      ...(hasCue(clause, 'again') && stance.kind === 'done' ? { again: true } : {}),
      ...note,
      span: place,
    };
    act = withFigures(act, part);
    if (
      carriesStage &&
      act.stage === undefined &&
      soFar.focus?.stage !== undefined &&
      !act.quantity
    )
      act = { ...act, stage: soFar.focus.stage };
    if (carriesStage && soFar.focus?.quantity && !act.quantity && !act.count)
      act = {
        ...act,
        quantity: soFar.focus.quantity,
        assumed: [...act.assumed, 'figure: the one said before'],
      };
    act = withAngleStage(act, step, wanted);
    act = withAttributes(act, step, clause, lexicon.plan, message.tongue);
    if (several && !several.all)
      act = { ...act, kind: 'partial', positions: [], count: { done: several.count } };
    act = withCountOfAll(act, step, figures);
    act = lessThanAll(act, step);
    if (act.kind === 'done' && !stance.step && leftOut(clause) && excepted.length === 0)
      act = { ...act, kind: 'partial' };
    if (
      act.kind === 'done' &&
      !act.quantity &&
      !stance.step &&
      onlyFastenersSaid(step, wanted.parts)
    )
      act = { ...act, kind: 'partial' };
    if (
      act.kind === 'finding' &&
      act.quantity &&
      !part.doubt &&
      asksSize(step) &&
      wanted.unknown === 0 &&
      figures.some((figure) => figure.kind === 'quantity')
    ) {
      const { note: _, ...rest } = act;
      act = { ...rest, kind: 'done' };
    }
    if (act.kind === 'finding' && act.positions.length === 0)
      act = { ...act, positions: anyPlaces(figures, lexicon) };
    if (part.doubt && (act.kind === 'done' || act.kind === 'partial')) {
      act = {
        ...act,
        kind: 'unsure',
        candidates: [
          {
            says: `${step.title}: as written`,
            kind: 'done',
            step: step.id,
            positions: [...places.positions],
            ...(part.quantity ? { quantity: part.quantity } : {}),
          },
        ],
      };
    }
    // "Nearly there on the clamps": at which place matters only once one is finished.
    if (
      stance.rule === 'nearly' &&
      !wanted.particleOnly &&
      places.missing &&
      act.kind === 'partial' &&
      !act.count
    )
      act = { ...act, kind: 'started' };
    if ((places.missing || places.unknown) && (act.kind === 'done' || act.kind === 'partial'))
      act = askWhere(act, step, places.allowed);
    if (
      shaky &&
      act.kind === 'done' &&
      !choice.fromContext &&
      (wanted.parts.size === 0 || wanted.unknown > 1)
    )
      return;
    if (shaky && act.kind === 'done') act = { ...act, kind: 'unsure' };
    if (act.kind === 'unsure' && !act.candidates)
      act = { ...act, candidates: doneOrNot(step, act) };
    if (leavesPartOpen(soFar, act, wanted)) continue;
    if (mergesInto(soFar.acts, act)) continue;
    soFar.said.set(act, wanted);
    soFar.acts.push(act);
    soFar.explained.push(explain(act, words, stance.rule, step));
  }
  if (stance.kind === 'done')
    addWithNew(step, places.positions, clause, message, lexicon, place, soFar);
  if (stance.kind === 'done') addNotYetBeyond(step, clause, message, place, soFar);
  if (elsewhere) addFigureElsewhere(elsewhere, places.positions, lexicon, context, place, soFar);
  if (excepted.length > 0 && stance.kind === 'done') {
    soFar.acts.push({
      kind: 'not-done',
      step: step.id,
      positions: [...excepted],
      assumed: [],
      span: place,
    });
    soFar.explained.push(
      `"${words}": not done, "${step.title}" at ${excepted.join(', ')} (left out by the words).`,
    );
  }
  const told = soFar.acts.at(-1);
  soFar.focus = {
    step,
    positions: places.positions,
    kind: stance.kind,
    from: '',
    ...(told?.step === step.id && told.quantity ? { quantity: told.quantity } : {}),
  };
}

/** A step that puts a part on and does not tighten it: hand tight is all that it asks. */
const isFitting = (step: StepPhrases | undefined): boolean =>
  step?.phrases.some(
    (phrase) =>
      phrase.from === 'title' && phrase.classes.some((one) => one === 'fit' || one === 'renew'),
  ) === true && step.step?.report?.some((ask) => ask.kind === 'tightening') !== true;

/** "Belt on, 10 mm": the tension is reported beside the fitting. */
function addFigureElsewhere(
  elsewhere: Elsewhere,
  positions: readonly string[],
  lexicon: Lexicon,
  context: ReadContext,
  span: [number, number],
  soFar: ReadSoFar,
): void {
  const { step, figure } = elsewhere;
  const set = setOfStep(step, lexicon);
  const allowed = set ? allowedPlaces(set, context.positions) : [];
  const places = positions.filter((name) => allowed.includes(name));
  const only = allowed.length === 1 ? allowed : places;
  if (set && only.length === 0) return;
  const [part] = figuresSaid(step.step, [figure], []);
  if (!part || part.doubt) return;
  // A torque must be one of the plan's own; nobody named this step.
  const tightens = step.step?.report?.some((ask) => ask.kind === 'tightening') === true;
  if (tightens && part.stage === undefined) return;
  const act = withFigures(
    { kind: 'done', step: step.id, positions: [...only], assumed: [], span },
    part,
  );
  if (mergesInto(soFar.acts, act)) return;
  soFar.acts.push(act);
  soFar.explained.push(`"${step.title}": done, by the figure said beside it.`);
}

/** "Only jacked", "only on the jack": the stands that come next are said to be wanting. */
function addNotYetBeyond(
  step: StepPhrases,
  clause: Clause,
  message: Message,
  span: [number, number],
  soFar: ReadSoFar,
): void {
  const only = clause.pieces.some((piece) =>
    piece.tokens
      .slice(piece.from, piece.to)
      .some((token) => /^(only|just|nur|bloß)$/.test(token.word)),
  );
  const lifts = (one: StepPhrases, family: string) =>
    one.phrases.some(
      (phrase) => phrase.from === 'title' && phrase.classes.some((c) => c === family),
    );
  if (!only || !lifts(step, 'lift')) return;
  const next = message.tongue.steps.find(
    (one) => one.step?.after?.includes(step.id) && /\bstands?\b/i.test(one.title),
  );
  if (!next || soFar.acts.some((act) => act.step === next.id)) return;
  const last = soFar.acts.at(-1);
  if (last?.kind === 'unsure' && last.step === step.id) soFar.acts.pop();
  soFar.acts.push({ kind: 'not-done', step: next.id, positions: [], assumed: [], span });
  soFar.explained.push(`"${next.title}": not done, since it is only said to be lifted.`);
}

/** "It stands only on the jack": what it stands on is said to be too little. */
const onlyBelow = (step: StepPhrases, clause: Clause): boolean =>
  weightOf(step) === 'safety-critical' &&
  clause.pieces.some((piece) =>
    piece.tokens
      .slice(piece.from, piece.to)
      .some(
        (token, k, all) =>
          /^(only|just|nur|bloß)$/.test(token.word) &&
          /^(on|auf|with|mit)$/.test(all[k + 1]?.word ?? ''),
      ),
  ) &&
  !step.phrases.some(
    (phrase) => phrase.from === 'title' && phrase.classes.some((family) => family === 'lift'),
  );

/** "Injectors in, with new washers": what went in with a part has its own step just before. */
function addWithNew(
  step: StepPhrases,
  positions: readonly string[],
  clause: Clause,
  message: Message,
  lexicon: Lexicon,
  span: [number, number],
  soFar: ReadSoFar,
): void {
  if (!isFitting(step)) return;
  const tokens = clause.pieces.flatMap((piece) => piece.tokens.slice(piece.from, piece.to));
  const at = tokens.findIndex(
    (token, k) =>
      /^(with|mit)$/.test(token.word) &&
      tokens.slice(k + 1, k + 4).some((one) => /^(new|fresh|neuem|neuen|neuer)$/.test(one.word)),
  );
  if (at < 0) return;
  const roots = tokens
    .slice(at + 1, at + 6)
    .flatMap((token) => (token.entry?.plan ? [token.entry.root] : []));
  if (roots.length === 0) return;
  const names = (one: StepPhrases) =>
    one.phrases.some(
      (phrase) =>
        phrase.from !== 'words' &&
        phrase.classes.some((family) => /^(fit|renew)$/.test(family)) &&
        roots.every((root) => phrase.parts.get(root) === 1),
    );
  if (step.step?.renew?.length && names(step)) return;
  const before = message.tongue.steps.filter(
    (one) => one.id !== step.id && step.step?.after?.includes(one.id) && names(one),
  );
  const [other] = before;
  if (before.length !== 1 || !other || setOfStep(other, lexicon) !== setOfStep(step, lexicon))
    return;
  const act: Act = {
    kind: 'done',
    step: other.id,
    positions: [...positions],
    assumed: [],
    span,
  };
  if (mergesInto(soFar.acts, act)) return;
  soFar.acts.push(act);
  soFar.explained.push(`"${other.title}": done, named with "with new".`);
}

/** "Wheels off both sides, 20 nuts": the count of all places together. */
function withCountOfAll(act: Act, step: StepPhrases, figures: readonly Figure[]): Act {
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
const leftOut = (clause: Clause): boolean =>
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
function withAngleStage(act: Act, step: StepPhrases, wanted: Wanted): Act {
  if (!/^(not-done|intends|started)$/.test(act.kind) || act.stage !== undefined) return act;
  if (!wanted.words.some((word) => /^(angle|turn|degree|winkel)$/.test(word.root))) return act;
  const ask = step.step?.report?.find((one) => one.kind === 'tightening');
  if (ask?.kind !== 'tightening') return act;
  const stages = ask.stages.flatMap((one, at) => (one.angle === undefined ? [] : [at + 1]));
  return stages.length === 1 && stages[0] !== undefined ? { ...act, stage: stages[0] } : act;
}

/** "4 injectors out" counts them and does not say which; with the number of all of them it is all. */
function countOfSeveral(
  figures: readonly Figure[],
  message: Message,
  step: StepPhrases,
  lexicon: Lexicon,
  context: ReadContext,
): { count: number; all: boolean } | undefined {
  const set = setOfStep(step, lexicon);
  if (!set?.numbered) return undefined;
  for (const figure of figures) {
    if (
      figure.kind !== 'positions' ||
      !figure.bare ||
      figure.queries.length !== 1 ||
      figure.to - figure.from !== 1
    )
      continue;
    const next = message.tokens[figure.to];
    const count = figure.queries[0]?.number;
    if (
      count === undefined ||
      count < 2 ||
      next?.kind !== 'word' ||
      next.entry?.plan !== true ||
      next.word === next.entry.root
    )
      continue;
    const allowed = allowedPlaces(set, context.positions).length;
    if (figures.some((one) => one !== figure && (one.kind === 'positions' || one.kind === 'all')))
      continue;
    if (count <= allowed) return { count, all: count === allowed };
  }
  return undefined;
}

/** Positions of this step that the message, or the report before it, has named already. */
function namedBefore(step: string, soFar: ReadSoFar): readonly string[] {
  const own = soFar.acts.filter((act) => act.step === step).flatMap((act) => act.positions);
  return own.length > 0 ? own : soFar.focus?.step.id === step ? soFar.focus.positions : [];
}

function exceptedPlaces(
  clause: Clause,
  step: StepPhrases,
  lexicon: Lexicon,
  context: ReadContext,
): readonly string[] {
  const figures = clause.pieces.flatMap((piece) => piece.excepted);
  return figures.length === 0
    ? []
    : placesSaid(step, figures, lexicon, context.positions).positions;
}

/** A report without a verb needs a figure the step asks for; a good result needs a step that looks at something. */
function enoughForWeak(
  stance: Stance,
  step: StepPhrases,
  clause: Clause,
  lexicon: Lexicon,
): boolean {
  const figures = figuresOf(clause);
  if (stance.rule === 'figure-beside-part') {
    const telling = figures.filter(
      (figure) =>
        /^(quantity|stage|code|trouble-code|count|number)$/.test(figure.kind) ||
        (figure.kind === 'positions' && figure.bare && step.step?.each === undefined),
    );
    if (telling.length === 0) return false;
    return (
      figureFit(step, telling, lexicon) > 0 ||
      (onlyPlanWords(clause) &&
        figuresSaid(step.step, telling, []).some((part) => part.quantity && !part.doubt))
    );
  }
  if (step.step?.check !== undefined) return true;
  const measured = figures.filter((figure) => /^(quantity|number|stage)$/.test(figure.kind));
  if (measured.length > 0 && figureFit(step, measured, lexicon) >= 0.08) return true;
  const title = step.phrases
    .filter((phrase) => phrase.from === 'title')
    .flatMap((phrase) => phrase.classes);
  return (
    title.some((one) => LOOKS.has(one)) || title.length === 0 || step.step?.check !== undefined
  );
}

const LOOKS: ReadonlySet<string> = new Set([
  'check',
  'measure',
  'test',
  'read',
  'clean',
  'drive',
  'adjust',
  'start',
]);

/** "Leaks checked, two weeping": a check that found something is a finding, never done. */
function withdrawGoodResult(soFar: ReadSoFar): void {
  const last = soFar.acts.at(-1);
  const step = soFar.focus?.step;
  if (last?.kind !== 'done' || !step || step.id !== last.step) return;
  const looks = step.phrases.some(
    (phrase) =>
      phrase.from === 'title' &&
      phrase.classes.some((one) => one === 'check' || one === 'test' || one === 'measure'),
  );
  if (looks && !last.quantity) {
    const { kind: _, step: _step, ...rest } = last;
    soFar.acts[soFar.acts.length - 1] = {
      ...rest,
      kind: 'finding',
      note: 'a check that found something',
    };
  }
}

/** "Lowered, still on the jack": what was reported just before is no longer certain. */
function doubtLast(soFar: ReadSoFar): void {
  const last = soFar.acts.at(-1);
  if (last?.kind !== 'done' || soFar.focus === undefined || soFar.focus.step.id !== last.step)
    return;
  const { kind: _, ...rest } = last;
  soFar.acts[soFar.acts.length - 1] = {
    ...rest,
    kind: 'unsure',
    candidates: doneOrNot(soFar.focus.step, last),
  };
}

/** Families of work said for an act, for what another clause says of the same step. */

/** "Cotter in, nut not": another part of the same step. */
const namesOther = (wanted: Wanted, before: Wanted): boolean => {
  const own = [...wanted.parts].filter(([, value]) => value > 0.9).map(([root]) => root);
  return own.length > 0 && own.every((root) => !before.parts.has(root));
};

/** "Prop on, bolts not torqued": one work of a step is done and another is not, so it is done in part. */
function leavesPartOpen(soFar: ReadSoFar, act: Act, wanted: Wanted): boolean {
  if (act.kind !== 'not-done' || act.count !== undefined) return false;
  const at = soFar.acts.findIndex(
    (one) =>
      (one.kind === 'done' || one.kind === 'partial') &&
      one.step === act.step &&
      one.stage === undefined &&
      act.stage === undefined &&
      (act.positions.length === 0 || one.positions.join() === act.positions.join()),
  );
  const old = soFar.acts[at];
  const before = old === undefined ? undefined : soFar.said.get(old);
  if (!old || !before) return false;
  const other =
    wanted.classes.length > 0
      ? before.classes.length > 0 && nearest(before.classes, wanted.classes) < 0.5
      : wanted.lemmas.length > 0
        ? !wanted.lemmas.some((lemma) => before.lemmas.includes(lemma))
        : namesOther(wanted, before);
  if (!other) return false;
  soFar.acts[at] = { ...old, kind: 'partial' };
  return true;
}

/** A second word for the same report adds its figures instead of standing beside it. */
function mergesInto(acts: Act[], act: Act): boolean {
  const at = acts.findIndex(
    (one) =>
      one.kind === act.kind &&
      one.step === act.step &&
      one.step !== undefined &&
      one.kind !== 'unsure',
  );
  const old = acts[at];
  if (!old) return false;
  const samePlace = old.positions.join() === act.positions.join();
  if (!samePlace) return false;
  for (const field of ['quantity', 'angle', 'stage', 'count', 'code'] as const) {
    if (
      old[field] !== undefined &&
      act[field] !== undefined &&
      JSON.stringify(old[field]) !== JSON.stringify(act[field])
    )
      return false;
  }
  if (
    (old.stage === undefined) !== (act.stage === undefined) &&
    (old.quantity || old.angle || act.quantity || act.angle) &&
    old.stage !== undefined &&
    act.quantity
  )
    return false;
  acts[at] = {
    ...act,
    ...old,
    ...(old.renewed && act.renewed
      ? { renewed: [...new Set([...old.renewed, ...act.renewed])] }
      : {}),
    assumed: [...new Set([...old.assumed, ...act.assumed])],
    span: [Math.min(old.span[0], act.span[0]), Math.max(old.span[1], act.span[1])],
  };
  return true;
}

/**
 * A safety-critical step needs words that name it: a word of its part that is not shared by half the plan, no
 * strangers among them, and for an independent check the word that makes it one.
 */
function certain(
  step: StepPhrases,
  wanted: Wanted,
  message: Message,
  lexicon: Lexicon,
  fromContext: boolean,
  stanceIsWeak: boolean,
): boolean {
  if (fromContext) return wanted.unknown === 0;
  const match = rankSteps(wanted, message.tongue, lexicon).find((one) => one.step.id === step.id);
  if (!match) return true;
  const strangers = wanted.unknown;
  if (wanted.shortMend) return false;
  const looksOnly = wanted.classes.length > 0 && wanted.classes.every((one) => one === 'check');
  const worded = match.reports || match.action >= 0.74 || !looksOnly;
  if (match.exact && worded && strangers === 0) return true;
  if (step.step?.check !== undefined) {
    const own = step.phrases
      .filter((phrase) => phrase.from !== 'report')
      .flatMap((phrase) => phrase.words);
    const marks = own.filter((word) =>
      /^(second|independent|2nd|zweite|unabhängig\w*)$/.test(word),
    );
    const marked = wanted.words.some((word) => marks.includes(word.root));
    // "Ade checked the caliper bolts and the wheel nuts": all that is to be checked was looked at.
    const own1 = wanted.words.some((word) => /^(own|my|me|myself)$/.test(word.root));
    const looked = wanted.classes.includes('check') && match.part >= 0.8 && strangers === 0;
    if (looked && !own1 && wanted.parts.size >= 3) return true;
    if (marks.length > 0 && !marked) return false;
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
  const roots = [...wanted.parts].filter(([, value]) => value >= 0.35).map(([root]) => root);
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
  if (
    ![...wanted.parts].some(([root, value]) => value >= 0.6 && !message.tongue.common.has(root)) &&
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
  if (stanceIsWeak && match.part < 0.85 && !match.exact && !measured) return false;
  if (wanted.classes.length > 0 && match.action < 0.74 && !(match.exact && worded) && !measured)
    return false;
  if (wanted.classes.length === 0 && wanted.figures.length === 0)
    return match.part >= 0.7 && strangers === 0;
  return match.part >= (strangers > 0 || wanted.particleOnly ? 0.75 : 0.55) && match.action >= 0.3;
}

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
): boolean {
  const telling = wanted.figures.filter((figure) =>
    /^(quantity|stage|code|trouble-code|count)$/.test(figure.kind),
  );
  if (telling.length > 0 && figureFit(step, telling, lexicon) > 0) return wanted.unknown > 3;
  const common = message.tongue.common;
  let named = 0;
  for (const [root, value] of wanted.parts) if (value >= 0.6 && !common.has(root)) named += 1;
  if (named === 0 && wanted.parts.size === 0) {
    const own = rankSteps(wanted, message.tongue, lexicon).find((one) => one.step.id === step.id);
    const it = wanted.words.some((word) => /^(it|her|him)$/.test(word.root));
    if (own?.exact && own.reports && it && wanted.unknown === 0) return false;
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

/** Words of a message that are no part of a figure or place. */
const wordsBeside = (message: Message): number =>
  message.tokens.filter(
    (token, at) =>
      token.kind === 'word' && !message.figures.some((one) => one.from <= at && at < one.to),
  ).length;

/** "Not done yet" speaks of the work in hand: a stranger among its words weighs less. */
const eased = (wanted: Wanted, stance: Stance, clause: Clause): Wanted =>
  stance.kind === 'not-done' &&
  hasCue(clause, 'not-yet') &&
  wanted.unknown > 0 &&
  wanted.words.length <= 9
    ? { ...wanted, unknown: wanted.unknown - 1 }
    : wanted;

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

/** Nothing but words of the plan and small ones stands beside the figures. */
const onlyPlanWords = (clause: Clause): boolean =>
  clause.pieces.every((piece) =>
    piece.tokens
      .slice(piece.from, piece.to)
      .every(
        (token, k) =>
          token.kind !== 'word' ||
          token.entry?.plan === true ||
          token.entry?.stop === true ||
          token.entry?.side !== undefined ||
          piece.figures.some((one) => one.from <= piece.from + k && piece.from + k < one.to),
      ),
  );

const asksSize = (step: StepPhrases): boolean =>
  step.step?.report?.some((ask) => ask.kind === 'quantity' || ask.kind === 'clearance') ?? false;

const notSized = (figure: Figure): boolean =>
  figure.kind !== 'quantity' && figure.kind !== 'number';

/** Fewer than the plan's count is a part of the step. */
function lessThanAll(act: Act, step: StepPhrases): Act {
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

function askWhere(act: Act, step: StepPhrases, allowed: readonly string[]): Act {
  const { kind, candidates: _, ...rest } = act;
  return {
    ...rest,
    kind: 'unsure',
    candidates: [
      {
        says: `all ${allowed.length}: ${step.title}`,
        kind,
        step: step.id,
        positions: [...allowed],
        ...(act.stage === undefined ? {} : { stage: act.stage }),
        ...(act.quantity ? { quantity: act.quantity } : {}),
      },
    ],
  };
}

function doneOrNot(step: StepPhrases, act: Act): Candidate[] {
  const same = { step: step.id, positions: [...act.positions] };
  return [
    {
      says: `Done: ${step.title}`,
      kind: 'done',
      ...same,
      ...(act.quantity ? { quantity: act.quantity } : {}),
      ...(act.stage === undefined ? {} : { stage: act.stage }),
    },
    { says: 'Not done yet', kind: 'not-done', ...same },
  ];
}

function candidateOf(
  step: StepPhrases,
  figures: readonly Figure[],
  lexicon: Lexicon,
  context: ReadContext,
): Candidate {
  const places = placesSaid(step, figures, lexicon, context.positions);
  const part = figuresSaid(step.step, figures, places.unused)[0];
  return {
    says: step.title,
    kind: 'done',
    step: step.id,
    positions: [...places.positions],
    ...(part?.quantity ? { quantity: part.quantity } : {}),
    ...(part?.stage === undefined ? {} : { stage: part.stage }),
  };
}

/** Positions of whichever set they fit, for a finding without a step. */
function anyPlaces(figures: readonly Figure[], lexicon: Lexicon): string[] {
  for (const set of lexicon.positions.sets.values()) {
    const fake: StepPhrases = {
      id: '',
      title: '',
      step: { id: 'x', title: 'x', phase: 'inspect', each: set.name },
      phrases: [],
    };
    if (setOfStep(fake, lexicon)) {
      const found = placesSaid(fake, figures, lexicon, undefined).positions;
      if (found.length > 0) return [...found];
    }
  }
  return [];
}

function explain(act: Act, words: string, rule: string, step: StepPhrases): string {
  const where = act.positions.length > 0 ? ` at ${act.positions.join(', ')}` : '';
  const assumed = act.assumed.length > 0 ? ` Assumed: ${act.assumed.join('; ')}.` : '';
  return `"${words}": ${act.kind}, "${step.title}"${where} (${rule}).${assumed}`;
}
