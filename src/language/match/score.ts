// How well a clause fits each step: the words of the part, the family of action, and whether its figures suit.
import type { Ask, Step } from '../../../shared/plan.ts';
import { convert, isUnit, kindOf, type Unit } from '../../trade/units.ts';
import type { Lexicon, Tongue } from '../lexicon.ts';
import type { ActionClass } from '../pack.ts';
import type { Figure } from '../scan/figure.ts';
import { PLAUSIBLE } from '../thresholds.ts';
import { nearest } from './kinship.ts';
import type { IndexedPhrase } from './phrase-index.ts';
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
  /** The verb that reports was mended from a slip. */
  readonly mendedVerb: boolean;
  /** It was mended from four letters or fewer: too near to other words for a grave step. */
  readonly shortMend: boolean;
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
export function rankSteps(
  wanted: Wanted,
  tongue: Tongue,
  lexicon: Lexicon,
  limit = 6,
): readonly Match[] {
  const have = ranked.get(wanted);
  const all = have && have.tongue === tongue ? have.matches : rankAll(wanted, tongue, lexicon);
  if (!have) ranked.set(wanted, { tongue, matches: all });
  return all.length > limit ? all.slice(0, limit) : all;
}

/** What was ranked for a clause is asked for by several rules; it is worked out once. */
const ranked = new WeakMap<
  Wanted,
  { readonly tongue: Tongue; readonly matches: readonly Match[] }
>();

function rankAll(wanted: Wanted, tongue: Tongue, lexicon: Lexicon): readonly Match[] {
  const index = tongue.phrases;
  const seen = new Set<number>();
  const best = new Map<StepPhrases, Match>();
  const actions: number[] = [];
  const setting: Setting = {
    wanted,
    tongue,
    actions,
    seen,
    best,
    sumOfParts: sumOfParts(wanted, tongue),
  };
  if (wanted.parts.size === 0) {
    for (const one of wanted.classes) take(index.byClass.get(one), setting);
    for (const word of wanted.words) if (!word.small) take(index.byRoot.get(word.root), setting);
  } else for (const root of wanted.parts.keys()) take(index.byRoot.get(root), setting);
  for (const lemma of wanted.lemmas) take(index.byRoot.get(lemma), setting);
  const matches: Match[] = [];
  for (const match of best.values()) {
    const score = match.score + figureFit(match.step, wanted.figures, lexicon);
    if (score > 0.2) matches.push({ ...match, score });
  }
  return matches.sort(better);
}

function better(a: Match, b: Match): number {
  if (Math.abs(b.score - a.score) < 1e-9) return undoing(a) - undoing(b);
  return b.score - a.score;
}

/** Where nothing else decides, "wheel nuts not yet" means their tightening rather than their slackening. */
const undoing = (match: Match): number =>
  match.step.phrases.some(
    (phrase) =>
      phrase.from === 'title' && phrase.classes.some((one) => /^(loosen|remove)$/.test(one)),
  )
    ? 1
    : 0;

type Setting = {
  readonly wanted: Wanted;
  readonly tongue: Tongue;
  /** Nearness of the families said to each family of the plan, filled as needed. */
  readonly actions: number[];
  readonly seen: Set<number>;
  readonly best: Map<StepPhrases, Match>;
  readonly sumOfParts: number;
};

function sumOfParts(wanted: Wanted, tongue: Tongue): number {
  let sum = wanted.unknown * UNKNOWN_WEIGHT;
  for (const [root, said] of wanted.parts) sum += (tongue.weightOf.get(root) ?? 1.5) * said;
  return sum;
}

function take(list: readonly IndexedPhrase[] | undefined, setting: Setting): void {
  if (!list) return;
  for (const one of list) {
    if (setting.seen.has(one.id)) continue;
    setting.seen.add(one.id);
    const match = scorePhrase(one, setting);
    if (!match) continue;
    const old = setting.best.get(one.step);
    if (!old || match.score > old.score) setting.best.set(one.step, match);
  }
}

const UNKNOWN_WEIGHT = 0.9;

function scorePhrase(one: IndexedPhrase, setting: Setting): Match | undefined {
  const { wanted, tongue } = setting;
  const phrase = one.phrase;
  const step = one.step;
  const exact = phrase.from === 'words' && contains(wanted.words, phrase);
  const reports = exact && phrase.reports;
  const near = actionOf(one, setting);
  // The words of the plan for it say by themselves what was done.
  const action = reports && phrase.classes.length === 0 ? Math.max(near, 0.9) : near;
  if (action < 0 && !exact) return undefined;
  let lemma = false;
  for (const said of wanted.lemmas) if (phrase.lemmas.includes(said)) lemma = true;
  if (wanted.parts.size === 0) {
    if (wanted.classes.length === 0 && !exact) return undefined;
    if (action < 0.75 && !exact) return undefined;
    return {
      step,
      score: 0.4 * action + (lemma ? 0.06 : 0) + (exact ? 0.3 : 0),
      part: 0,
      action,
      exact,
      reports,
    };
  }
  let matched = 0;
  let hit = 0;
  let covered = 0;
  for (let i = 0; i < one.roots.length; i += 1) {
    const said = wanted.parts.get(one.roots[i] ?? '');
    if (said === undefined) continue;
    const value = one.weights[i] ?? 0;
    matched += value * Math.min(1, said + 0.3);
    covered += (tongue.weightOf.get(one.roots[i] ?? '') ?? 1.5) * said;
    hit += 1;
  }
  if (hit === 0 && !exact) {
    if (one.roots.length === 0 && lemma)
      return { step, score: 0.3, part: 0, action, exact, reports };
    return undefined;
  }
  for (const root of phrase.lemmas) {
    const said = wanted.parts.get(root);
    if (said !== undefined && !phrase.parts.has(root))
      covered += (tongue.weightOf.get(root) ?? 1.5) * said;
  }
  const precision = one.total > 0 ? matched / one.total : 0;
  const recall = setting.sumOfParts > 0 ? covered / setting.sumOfParts : 0;
  const part = 0.4 * precision + 0.6 * recall;
  const noHead = phrase.head !== undefined && !wanted.parts.has(phrase.head);
  let score = (0.6 * part + 0.4 * Math.max(0, action)) * (phrase.from === 'report' ? 0.96 : 1);
  if (lemma) score += 0.05;
  if (exact) score += 0.12;
  else if (sharesPlace(wanted.words, phrase)) score += 0.14;
  if (noHead) score -= 0.07;
  if (noHead && wanted.particleOnly && one.fluid) score -= 0.2;
  if (wanted.particleOnly && one.fluid && !exact) score -= 0.06;
  if (action < 0.3 && wanted.classes.length > 0 && !exact) score -= 0.15;
  return { step, score, part, action, exact, reports };
}

function actionOf(one: IndexedPhrase, setting: Setting): number {
  const wanted = setting.wanted;
  if (wanted.classes.length === 0) return wanted.calledDone && one.work ? 0.85 : 0.6;
  if (one.phrase.classes.length === 0) return 0.6;
  const have = setting.actions[one.family];
  if (have !== undefined) return have;
  const made = nearest(wanted.classes, one.phrase.classes);
  setting.actions[one.family] = made;
  return made;
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
    const place = words[i]?.root ?? '';
    if (
      place !== 'on' &&
      place !== 'under' &&
      place !== 'to' &&
      place !== 'onto' &&
      place !== 'auf'
    )
      continue;
    const at = phrase.words.indexOf(place);
    if (at < 0) continue;
    const root = words[i + 1]?.root ?? '';
    const next = phrase.words[at + 1];
    const then = phrase.words[at + 2];
    if (next === root || next === `${root}s` || then === root || then === `${root}s`) return true;
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
    else if (figure.kind === 'number')
      fit +=
        stageFigure(step, figure.value, undefined) +
        (Number.isInteger(figure.value) ? 0 : Math.max(0, bareValueFit(step, figure.value)));
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
  return value === undefined ? -0.02 : bareValueFit(step, value);
}

function bareValueFit(step: Step | undefined, value: number): number {
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
