// How well a clause fits each step: the words of the part, the family of action, and whether its figures suit.
import type { Memo } from '../clause.ts';
import type { Lexicon, Tongue } from '../lexicon.ts';
import type { ActionClass } from '../pack.ts';
import type { Figure } from '../scan/figure.ts';
import { figureFit } from './figure-fit.ts';
import { nearest } from './kinship.ts';
import type { IndexedPhrase, StepFacts } from './phrase-index.ts';
import type { Phrase, StepPhrases } from './phrases.ts';

export type Wanted = {
  readonly memo: Memo<{ readonly tongue: Tongue; readonly matches: readonly Match[] }>;
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
  const memo = wanted.memo;
  let all = memo.of === wanted && memo.value?.tongue === tongue ? memo.value.matches : undefined;
  if (!all) {
    all = rankAll(wanted, tongue, lexicon);
    memo.of = wanted;
    memo.value = { tongue, matches: all };
  }
  return all.length > limit ? all.slice(0, limit) : all;
}

/** Number of the ranking that goes on; a phrase that several words lead to is weighed once in each. */
let ranking = 0;

function rankAll(wanted: Wanted, tongue: Tongue, lexicon: Lexicon): readonly Match[] {
  const index = tongue.phrases;
  ranking = (ranking + 1) | 0;
  const setting: Setting = {
    wanted,
    tongue,
    actions: [],
    best: [],
    sumOfParts: sumOfParts(wanted, tongue),
    places: placesIn(wanted.words),
  };
  if (wanted.parts.size === 0) {
    for (const one of wanted.classes) take(index.byClass.get(one), setting);
    for (const word of wanted.words) if (!word.small) take(index.byRoot.get(word.root), setting);
  } else for (const root of wanted.parts.keys()) take(index.byRoot.get(root), setting);
  for (const lemma of wanted.lemmas) take(index.byRoot.get(lemma), setting);
  const matches: Match[] = [];
  let again: boolean | undefined;
  for (const best of setting.best) {
    const { step, again: repeats } = index.facts[best.stepAt] as StepFacts;
    let once = 0;
    if (repeats) {
      again ??= saysAgain(wanted);
      once = wanted.lemmas.some((lemma) => REDONE.test(lemma))
        ? 0.1
        : again || best.exact
          ? 0
          : -0.1;
    }
    const fit = wanted.figures.length === 0 ? 0 : figureFit(step, wanted.figures, lexicon);
    const score = best.score + once + fit;
    if (score > 0.2)
      matches.push({
        step,
        score,
        part: best.part,
        action: best.action,
        exact: best.exact,
        reports: best.reports,
      });
  }
  if (matches.length < 2) return matches;
  return matches.sort((a, b) => better(a, b, index.facts));
}

const REDONE = /^re-?(?:torque|tighten|check|test|measure)/;

/** Words that say of a work that it was done a second time: "retorqued", "again", "after the run". */
const saysAgain = (wanted: Wanted): boolean =>
  wanted.lemmas.some((lemma) => /^re-?[a-z]/.test(lemma)) ||
  wanted.figures.some(
    (figure) => figure.kind === 'quantity' && /^(km|mi|min|h)$/.test(figure.unit),
  ) ||
  wanted.words.some((word) => AGAIN.has(word.root));

const AGAIN: ReadonlySet<string> = new Set([
  'again',
  'second',
  'after',
  're',
  'nach',
  'nochmal',
  'erneut',
]);

/** Where nothing else decides, "wheel nuts not yet" means their tightening rather than their slackening. */
function better(a: Match, b: Match, facts: readonly StepFacts[]): number {
  if (Math.abs(b.score - a.score) >= 1e-9) return b.score - a.score;
  return undoing(a, facts) - undoing(b, facts);
}

const undoing = (match: Match, facts: readonly StepFacts[]): number =>
  facts.some((one) => one.step === match.step && one.undoing) ? 1 : 0;

/** The best phrase of one step. */
type Best = {
  readonly stepAt: number;
  score: number;
  part: number;
  action: number;
  exact: boolean;
  reports: boolean;
};

type Setting = {
  readonly wanted: Wanted;
  readonly tongue: Tongue;
  /** Nearness of the families said to each family of the plan, filled as needed. */
  readonly actions: number[];
  /** The best of each step that has a phrase that fits, in the order in which they were met. */
  readonly best: Best[];
  readonly sumOfParts: number;
  readonly places: readonly Place[];
};

function sumOfParts(wanted: Wanted, tongue: Tongue): number {
  let sum = wanted.unknown * UNKNOWN_WEIGHT;
  for (const [root, said] of wanted.parts) sum += (tongue.weightOf.get(root) ?? 1.5) * said;
  return sum;
}

function take(list: readonly IndexedPhrase[] | undefined, setting: Setting): void {
  if (!list) return;
  const seen = setting.tongue.phrases.lookedAt;
  for (const one of list) {
    if (seen[one.id] === ranking) continue;
    seen[one.id] = ranking;
    scorePhrase(one, setting);
  }
}

const UNKNOWN_WEIGHT = 0.9;

function scorePhrase(one: IndexedPhrase, setting: Setting): void {
  const { wanted, tongue } = setting;
  const phrase = one.phrase;
  const exact = one.written && contains(wanted.words, phrase);
  const reports = exact && phrase.reports;
  const near = actionOf(one, setting);
  // The words of the plan for it say by themselves what was done.
  const action = reports && phrase.classes.length === 0 ? Math.max(near, 0.9) : near;
  if (action < 0 && !exact) return;
  let lemma = false;
  for (const said of wanted.lemmas) if (phrase.lemmas.includes(said)) lemma = true;
  if (wanted.parts.size === 0) {
    if (wanted.classes.length === 0 && !exact) return;
    if (action < 0.75 && !exact) return;
    const alone = 0.4 * action + (lemma ? 0.06 : 0) + (exact ? 0.3 : 0);
    keep(setting, one.stepAt, alone, 0, action, exact, reports);
    return;
  }
  let matched = 0;
  let hit = 0;
  let covered = 0;
  for (let i = 0; i < one.roots.length; i += 1) {
    const said = wanted.parts.get(one.roots[i] ?? '');
    if (said === undefined) continue;
    const value = one.weights[i] ?? 0;
    matched += value * Math.min(1, said + 0.3);
    covered += (one.rarity[i] ?? 1.5) * said;
    hit += 1;
  }
  if (hit === 0 && !exact) {
    if (one.roots.length === 0 && lemma) keep(setting, one.stepAt, 0.3, 0, action, exact, reports);
    return;
  }
  for (const root of phrase.lemmas) {
    if (phrase.parts.has(root)) continue;
    const said = wanted.parts.get(root);
    if (said !== undefined) covered += (tongue.weightOf.get(root) ?? 1.5) * said;
  }
  const precision = one.total > 0 ? matched / one.total : 0;
  const recall = setting.sumOfParts > 0 ? covered / setting.sumOfParts : 0;
  const part = 0.4 * precision + 0.6 * recall;
  const noHead = phrase.head !== undefined && !wanted.parts.has(phrase.head);
  let score = (0.6 * part + 0.4 * Math.max(0, action)) * (phrase.from === 'report' ? 0.96 : 1);
  if (lemma) score += 0.05;
  if (exact) score += 0.12;
  else if (sharesPlace(setting.places, phrase)) score += 0.14;
  if (noHead) score -= 0.07;
  if (noHead && wanted.particleOnly && one.fluid) score -= 0.2;
  if (wanted.particleOnly && one.fluid && !exact) score -= 0.06;
  if (action < 0.3 && wanted.classes.length > 0 && !exact) score -= 0.15;
  keep(setting, one.stepAt, score, part, action, exact, reports);
}

/** Keeps what fits a step best. */
function keep(
  setting: Setting,
  stepAt: number,
  score: number,
  part: number,
  action: number,
  exact: boolean,
  reports: boolean,
): void {
  for (const old of setting.best) {
    if (old.stepAt !== stepAt) continue;
    if (score > old.score) {
      old.score = score;
      old.part = part;
      old.action = action;
      old.exact = exact;
      old.reports = reports;
    }
    return;
  }
  setting.best.push({ stepAt, score, part, action, exact, reports });
}

function actionOf(one: IndexedPhrase, setting: Setting): number {
  const wanted = setting.wanted;
  if (wanted.classes.length === 0) return wanted.calledDone && one.work ? 0.85 : 0.6;
  if (one.phrase.classes.length === 0) return 0.6;
  const have = setting.actions[one.family];
  if (have !== undefined)
    return one.phrase.byLetter && wanted.particleOnly ? Math.min(have, 0.6) : have;
  const made = nearest(wanted.classes, one.phrase.classes);
  setting.actions[one.family] = made;
  return one.phrase.byLetter && wanted.particleOnly ? Math.min(made, 0.6) : made;
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

type Place = { readonly word: string; readonly root: string };

/** Words of place with what stands behind them: "on stands". */
function placesIn(words: readonly Said[]): readonly Place[] {
  let out: Place[] | undefined;
  for (let i = 0; i + 1 < words.length; i += 1) {
    const word = words[i]?.root ?? '';
    if (!PLACING.has(word)) continue;
    out ??= [];
    out.push({ word, root: words[i + 1]?.root ?? '' });
  }
  return out ?? NO_PLACES;
}

const PLACING: ReadonlySet<string> = new Set(['on', 'under', 'to', 'onto', 'auf']);
const NO_PLACES: readonly Place[] = [];

/** "on stands" in both: the words of place agree. */
function sharesPlace(places: readonly Place[], phrase: Phrase): boolean {
  for (const { word, root } of places) {
    const at = phrase.words.indexOf(word);
    if (at < 0) continue;
    const next = phrase.words[at + 1];
    const then = phrase.words[at + 2];
    if (next === root || then === root) return true;
    const plural = `${root}s`;
    if (next === plural || then === plural) return true;
  }
  return false;
}
