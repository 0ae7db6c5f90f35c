// How well a clause fits each step: the words of the part, the family of action, and whether its figures suit.
import type { Ask, Step } from '../../../shared/plan.ts';
import { convert, isUnit, kindOf, type Unit } from '../../trade/units.ts';
import type { Lexicon, Tongue } from '../lexicon.ts';
import type { ActionClass } from '../pack.ts';
import type { Figure } from '../scan/figure.ts';
import { PLAUSIBLE } from '../thresholds.ts';
import { nearest } from './kinship.ts';
import type { Phrase, StepPhrases } from './phrases.ts';
import { resolvePositions } from './positions.ts';

export type Wanted = {
  readonly classes: readonly ActionClass[];
  readonly lemmas: readonly string[];
  readonly parts: ReadonlyMap<string, number>;
  readonly unknown: number;
  readonly figures: readonly Figure[];
  readonly words: readonly Said[];
  /** Called done without a verb: the work on a part is meant rather than its coming off or going on. */
  readonly calledDone: boolean;
  /** Only a particle reports: "gearbox out" is the gearbox, not its oil. */
  readonly particleOnly: boolean;
};

/** A word of the clause: its root, and whether it may stand between the words of a phrase. */
export type Said = { readonly root: string; readonly small: boolean; readonly past: boolean };

export type Match = {
  readonly step: StepPhrases;
  readonly score: number;
  /** Share of the part's words that fit, 0 where the clause names no part. */
  readonly part: number;
  readonly action: number;
  readonly exact: boolean;
  /** The words of the plan that stand in the clause say by themselves that it happened. */
  readonly reports: boolean;
};

/** Steps that fit, best first. At most `limit`. */
export function rankSteps(wanted: Wanted, tongue: Tongue, lexicon: Lexicon, limit = 6): Match[] {
  const places = candidates(wanted, tongue);
  const matches: Match[] = [];
  for (const place of places) {
    const step = tongue.steps[place];
    if (!step) continue;
    const best = bestPhrase(step, wanted, tongue);
    if (!best) continue;
    const score = best.score + figureFit(step, wanted.figures, lexicon);
    if (score > 0.2) matches.push({ ...best, step, score });
  }
  return matches.sort((a, b) => b.score - a.score).slice(0, limit);
}

function candidates(wanted: Wanted, tongue: Tongue): Iterable<number> {
  if (wanted.parts.size === 0) return tongue.steps.keys();
  const found = new Set<number>();
  for (const root of [...wanted.parts.keys(), ...wanted.lemmas]) {
    for (const place of tongue.stepsByRoot.get(root) ?? []) found.add(place);
  }
  return found;
}

function bestPhrase(
  step: StepPhrases,
  wanted: Wanted,
  tongue: Tongue,
): Omit<Match, 'step'> | undefined {
  let best: Omit<Match, 'step'> | undefined;
  for (const phrase of step.phrases) {
    const one = scorePhrase(phrase, wanted, tongue);
    if (one && (!best || one.score > best.score)) best = one;
  }
  return best;
}

const UNKNOWN_WEIGHT = 0.9;

function scorePhrase(
  phrase: Phrase,
  wanted: Wanted,
  tongue: Tongue,
): Omit<Match, 'step'> | undefined {
  const weight = (root: string) => tongue.weightOf.get(root) ?? 1.5;
  const exact = phrase.from === 'words' && contains(wanted.words, phrase);
  const reports = exact && phrase.reports;
  const action = actionOf(phrase, wanted);
  if (action < 0 && !exact) return undefined;
  const lemma = wanted.lemmas.some((one) => phrase.lemmas.includes(one));
  if (wanted.parts.size === 0) {
    if (wanted.classes.length === 0) return undefined;
    if (action < 0.75 && !exact) return undefined;
    return {
      score: 0.4 * action + (lemma ? 0.06 : 0) + (exact ? 0.3 : 0),
      part: 0,
      action,
      exact,
      reports,
    };
  }
  const fluid =
    wanted.particleOnly &&
    phrase.head !== undefined &&
    !wanted.parts.has(phrase.head) &&
    phrase.classes.some((one) => one === 'drain' || one === 'fill');
  const near = !exact && sharesPlace(wanted.words, phrase) ? 0.08 : 0;
  let matched = 0;
  let all = 0;
  let hit = 0;
  for (const [root, strength] of phrase.parts) {
    const value = weight(root) * strength;
    all += value;
    const said = wanted.parts.get(root);
    if (said !== undefined) {
      matched += value * Math.min(1, said + 0.3);
      hit += 1;
    }
  }
  if (hit === 0 && !exact) {
    if (phrase.parts.size === 0 && lemma) return { score: 0.3, part: 0, action, exact, reports };
    return undefined;
  }
  let clause = wanted.unknown * UNKNOWN_WEIGHT;
  let covered = 0;
  for (const [root, said] of wanted.parts) {
    const value = weight(root) * said;
    clause += value;
    if (phrase.parts.has(root) || phrase.lemmas.includes(root)) covered += value;
  }
  const precision = all > 0 ? matched / all : 0;
  const recall = clause > 0 ? covered / clause : 0;
  const part = 0.4 * precision + 0.6 * recall;
  const source = phrase.from === 'report' ? 0.96 : 1;
  const headless = phrase.head !== undefined && !wanted.parts.has(phrase.head) ? 0.07 : 0;
  const score =
    (0.6 * part + 0.4 * Math.max(0, action)) * source +
    (lemma ? 0.05 : 0) +
    (exact ? 0.12 : 0) -
    headless +
    near -
    (fluid ? 0.2 : 0);
  return {
    score: action < 0.3 && wanted.classes.length > 0 && !exact ? score - 0.15 : score,
    part,
    action,
    exact,
    reports,
  };
}

/** Families of work on a thing; "clamps done" means them rather than off, on or slackened. */
const WORK: ReadonlySet<ActionClass> = new Set([
  'tighten',
  'enter',
  'adjust',
  'clean',
  'bleed',
  'test',
  'measure',
  'fill',
  'drain',
  'prime',
  'check',
]);

function actionOf(phrase: Phrase, wanted: Wanted): number {
  if (wanted.classes.length === 0) {
    return wanted.calledDone && phrase.classes.some((one) => WORK.has(one)) ? 0.85 : 0.6;
  }
  if (phrase.classes.length === 0) return 0.6;
  return nearest(wanted.classes, phrase.classes);
}

/** The words of a phrase in their order, with only small words and figures between them. */
function contains(words: readonly Said[], phrase: Phrase): boolean {
  const roots = phrase.roots;
  const first = roots[0];
  if (first === undefined) return false;
  if (roots.length === 1)
    return phrase.lemmas.length > 0 && words.some((word) => word.root === first && word.past);
  for (let i = 0; i + roots.length <= words.length; i += 1) {
    if (words[i]?.root !== first) continue;
    let k = i;
    let at = 0;
    while (k < words.length && at < roots.length) {
      if (words[k]?.root === roots[at]) at += 1;
      else if (!words[k]?.small) break;
      k += 1;
    }
    if (at === roots.length) return true;
  }
  return false;
}

/** "on stands" in both: the words of place agree. */
function sharesPlace(words: readonly Said[], phrase: Phrase): boolean {
  for (let i = 0; i + 1 < words.length; i += 1) {
    const [a, b] = [words[i], words[i + 1]];
    if (!a || !b || !/^(on|under|to|onto)$/.test(a.root)) continue;
    const at = phrase.words.indexOf(a.root);
    if (
      at >= 0 &&
      phrase.words.slice(at + 1, at + 3).some((word) => word === b.root || word === `${b.root}s`)
    )
      return true;
  }
  return false;
}

const asksOf = (step: Step | undefined): readonly Ask[] => step?.report ?? [];

/** What the figures of the clause say for or against a step. */
export function figureFit(
  phrases: StepPhrases,
  figures: readonly Figure[],
  lexicon: Lexicon,
): number {
  const step = phrases.step;
  let fit = 0;
  for (const figure of figures) {
    if (figure.kind === 'quantity')
      fit +=
        quantityFit(step, figure.value, figure.unit) + stageFigure(step, figure.value, figure.unit);
    else if (figure.kind === 'number') fit += stageFigure(step, figure.value, undefined);
    else if (figure.kind === 'count') fit += countFit(step, figure.of ?? figure.done);
    else if (figure.kind === 'all' && figure.count !== undefined && figure.count > 2)
      fit += countFit(step, figure.count) / 2;
    else if (figure.kind === 'stage') fit += stageFit(step, figure.stages);
    else if (figure.kind === 'code')
      fit += asksOf(step).some((ask) => ask.kind === 'code') ? 0.1 : -0.08;
    else if (figure.kind === 'trouble-code')
      fit += asksOf(step).some((ask) => ask.kind === 'trouble-codes') ? 0.15 : -0.05;
    else if (figure.kind === 'positions') {
      const set = step?.each === undefined ? undefined : lexicon.positions.sets.get(step.each);
      if (!set) fit += figure.bare ? bareFit(step, figure) : -0.06;
      else fit += resolvePositions(figure.queries, set).unknown.length === 0 ? 0.04 : -0.06;
    }
  }
  return Math.max(-0.2, Math.min(0.2, fit));
}

/** A figure that is exactly what a stage of the plan says speaks for that step. */
function stageFigure(step: Step | undefined, value: number, unit: string | undefined): number {
  for (const ask of asksOf(step)) {
    if (ask.kind !== 'tightening' && ask.kind !== 'loosening') continue;
    for (const stage of ask.stages) {
      if (
        stage.angle === value &&
        (unit === 'deg' || unit === undefined) &&
        ask.kind === 'tightening'
      )
        return 0.08;
      if (stage.torque === undefined) continue;
      const own = stage.unit ?? 'N.m';
      const same =
        unit === undefined
          ? value
          : isUnit(unit) && kindOf(unit) === 'torque'
            ? convert(value, unit, own)
            : undefined;
      if (typeof same === 'number' && Math.abs(same - stage.torque) <= stage.torque * 0.02)
        return 0.1;
    }
  }
  return 0;
}

/** A bare number that the step could take as its only figure. */
function bareFit(step: Step | undefined, figure: Extract<Figure, { kind: 'positions' }>): number {
  const value = figure.queries.length === 1 ? figure.queries[0]?.number : undefined;
  if (value === undefined) return -0.02;
  const fits = asksOf(step).some((ask) => {
    const limits = ['volume', 'torque', 'pressure', 'length', 'temperature', 'distance', 'angle']
      .map((kind) => limitsOf(ask, kind))
      .find((one) => one !== undefined);
    return limits !== undefined && plausible(value, limits.unit, limits);
  });
  return fits ? 0.06 : -0.02;
}

function countFit(step: Step | undefined, count: number): number {
  const counts = asksOf(step).flatMap((ask) =>
    ask.kind === 'off' || ask.kind === 'on' ? [ask.count] : [],
  );
  return counts.length === 0 ? 0 : counts.includes(count) ? 0.08 : -0.02;
}

function stageFit(step: Step | undefined, stages: readonly number[]): number {
  const asks = asksOf(step).filter((ask) => ask.kind === 'tightening' || ask.kind === 'loosening');
  if (asks.length === 0) return -0.15;
  const most = Math.max(...asks.map((ask) => ('stages' in ask ? ask.stages.length : 0)));
  const tight = asks.some((ask) => ask.kind === 'tightening');
  return stages.every((stage) => stage <= most) ? (tight ? 0.1 : 0) : -0.1;
}

/** Whether the step asks for this kind of figure, and whether its size can be meant. */
export function quantityFit(step: Step | undefined, value: number, unit: string): number {
  const kind = isUnit(unit) ? kindOf(unit) : undefined;
  let best = -0.08;
  for (const ask of asksOf(step)) {
    const limits = limitsOf(ask, kind);
    if (!limits) continue;
    best = Math.max(best, plausible(value, unit, limits) ? 0.1 : -0.12);
  }
  return best;
}

type Limits = {
  readonly unit: Unit;
  readonly min: number | undefined;
  readonly max: number | undefined;
};

/** The limits of an ask that is of this kind. */
export function limitsOf(ask: Ask, kind: string | undefined): Limits | undefined {
  if (ask.kind === 'quantity' && isUnit(ask.unit)) {
    const own = kindOf(ask.unit);
    const same = own === kind || (kind === 'angle' && own === 'temperature');
    return same ? { unit: ask.unit, min: ask.min, max: ask.max } : undefined;
  }
  if (ask.kind === 'drained' || ask.kind === 'filled') {
    const unit = ask.unit !== undefined && isUnit(ask.unit) ? ask.unit : 'L';
    return kind === 'volume' ? { unit, min: ask.min, max: ask.max } : undefined;
  }
  if (ask.kind === 'clearance' && kind === 'length') {
    const unit = ask.unit !== undefined && isUnit(ask.unit) ? ask.unit : 'mm';
    return {
      unit,
      min: Math.min(...ask.valves.map((one) => one.min)),
      max: Math.max(...ask.valves.map((one) => one.max)),
    };
  }
  if (ask.kind === 'tightening' || ask.kind === 'loosening') {
    if (kind === 'angle') {
      const angles = ask.stages.flatMap((one) => (one.angle === undefined ? [] : [one.angle]));
      return angles.length > 0
        ? { unit: 'deg', min: Math.min(...angles), max: Math.max(...angles) }
        : undefined;
    }
    if (kind !== 'torque') return undefined;
    const torques = ask.stages.flatMap((one) => (one.torque === undefined ? [] : [one.torque]));
    const unit = ask.stages.find((one) => one.torque !== undefined)?.unit ?? 'N.m';
    return torques.length > 0 && isUnit(unit)
      ? { unit, min: Math.min(...torques), max: Math.max(...torques) }
      : undefined;
  }
  return undefined;
}

function plausible(value: number, unit: string, limits: Limits): boolean {
  if (!isUnit(unit)) return false;
  const same = kindOf(unit) === kindOf(limits.unit) ? convert(value, unit, limits.unit) : value;
  if (typeof same !== 'number') return true;
  const low =
    limits.min === undefined ? undefined : limits.min > 0 ? limits.min / PLAUSIBLE : limits.min;
  const high =
    limits.max === undefined ? undefined : limits.max > 0 ? limits.max * PLAUSIBLE : limits.max;
  return (low === undefined || same >= low) && (high === undefined || same <= high);
}
