// Everything reading needs of one plan, made once: its words, its steps as phrases, its positions and its figures.
import type { Plan } from '../job/plan.ts';
import { isUnit, kindOf, UNITS } from '../trade/units.ts';
import { type CueTable, makeCueTable } from './cue-table.ts';
import { indexPhrases, type PhraseIndex } from './match/phrase-index.ts';
import { makePhrases, type StepPhrases } from './match/phrases.ts';
import { makePositions, type PositionIndex } from './match/positions.ts';
import { sidesOfPlan } from './match/sides-of-plan.ts';
import { titleWords } from './match/title-words.ts';
import type { LanguagePack } from './pack.ts';
import { german } from './packs/de/index.ts';
import { english } from './packs/en/index.ts';
import type { ScanWords } from './scan/figure.ts';
import { makeVocabulary, type Vocabulary } from './tidy/vocabulary.ts';

/** One language's view of the plan. */
export type Tongue = {
  readonly pack: LanguagePack;
  readonly vocabulary: Vocabulary;
  readonly cues: CueTable;
  readonly steps: readonly StepPhrases[];
  /** How rare a word is among the steps: the rarer, the more it says. */
  readonly weightOf: ReadonlyMap<string, number>;
  readonly phrases: PhraseIndex;
  /** Roots of words that name a part in some phrase. */
  readonly partRoots: ReadonlySet<string>;
  readonly scan: Omit<ScanWords, 'jobs' | 'raw'>;
  readonly marks: ReadonlySet<string>;
  readonly common: ReadonlySet<string>;
  /** Words that join places or denials, of every language: people mix them. */
  readonly joining: readonly string[];
};

export type Lexicon = {
  readonly plan: Plan;
  readonly tongues: readonly Tongue[];
  readonly positions: PositionIndex;
};

/** Makes the lexicon of a plan. Costs some milliseconds; the caller keeps it as long as the plan is the same. */
export function buildLexicon(
  plan: Plan,
  packs: readonly LanguagePack[] = [english, german],
): Lexicon {
  const positions = makePositions(plan, packs);
  return {
    plan,
    tongues: packs.map((pack) => makeTongue(plan, pack, packs, positions)),
    positions,
  };
}

function makeTongue(
  plan: Plan,
  pack: LanguagePack,
  packs: readonly LanguagePack[],
  positions: PositionIndex,
): Tongue {
  const { words, verbs, compounds, pairs, nouns, split } = titleWords(plan, pack);
  const sides = sidesOfPlan(plan, packs);
  const figures = figuresOf(plan);
  const vocabulary = makeVocabulary(pack, words, verbs, {
    lemmas: titleLemmas(plan),
    compounds,
    pairs,
    sides,
    figures,
    nouns,
    split,
  });
  const steps = makePhrases(plan, pack, vocabulary);
  const weightOf = new Map<string, number>();
  const stepsByRoot = new Map<string, number[]>();
  steps.forEach((step, index) => {
    const roots = new Set(
      step.phrases.flatMap((phrase) => [...phrase.parts.keys(), ...phrase.lemmas]),
    );
    for (const root of roots) stepsByRoot.set(root, [...(stepsByRoot.get(root) ?? []), index]);
  });
  for (const [root, list] of stepsByRoot) {
    weightOf.set(root, Math.log(1 + steps.length / list.length));
  }
  return {
    pack,
    vocabulary,
    cues: makeCueTable(pack),
    steps,
    weightOf,
    phrases: indexPhrases(steps, weightOf),
    partRoots: new Set(
      steps.flatMap((step) => step.phrases.flatMap((phrase) => [...phrase.parts.keys()])),
    ),
    marks: new Set(pack.marks),
    common: new Set(pack.common),
    joining: packs.flatMap((one) => one.joining ?? []),
    scan: {
      units: pack.units,
      usable: usableUnits(plan),
      positionNouns: positionNouns(plan, pack),
      stageNouns: new Set(pack.stageNouns),
      ordinals: pack.ordinals,
      letters: pack.letters,
      heardNumbers: pack.heardNumbers,
      sidesOfPlan: new Set(Object.values(sides).flat()),
      sidesOfPlaces: [...positions.sets.values()].flatMap((set) =>
        set.places.map((place) => [...place.sides]).filter((one) => one.length > 0),
      ),
      planFigures: figures,
      highestPlace: highestPlace(plan),
      moments: new Set(Object.keys(pack.times.moments)),
    },
  };
}

/** First words of titles: the verbs this plan uses. */
function titleLemmas(plan: Plan): ReadonlySet<string> {
  return new Set(
    plan.steps
      .flatMap((step) => [step.title, ...(step.words ?? [])])
      .flatMap((text) => text.toLowerCase().split(' ')),
  );
}

/** Units of the kinds that some step asks for. */
function usableUnits(plan: Plan): ReadonlySet<string> {
  const kinds = new Set<string>(['duration']);
  for (const ask of plan.steps.flatMap((step) => step.report ?? [])) {
    if (ask.kind === 'quantity' && isUnit(ask.unit)) kinds.add(kindOf(ask.unit));
    if (ask.kind === 'drained' || ask.kind === 'filled') kinds.add('volume');
    if (ask.kind === 'clearance') kinds.add('length');
    if (ask.kind === 'tightening' || ask.kind === 'loosening') {
      kinds.add('torque');
      kinds.add('angle');
    }
  }
  return new Set(UNITS.filter((unit) => kinds.has(kindOf(unit))));
}

function positionNouns(plan: Plan, pack: LanguagePack): ReadonlySet<string> {
  const nouns = new Set(pack.positionNouns);
  for (const set of Object.values(plan.positions ?? {})) {
    for (const word of [
      ...(set.words ?? []),
      ...Object.values(set.also ?? {}).flatMap((also) => also.words ?? []),
    ]) {
      if (!word.includes(' ')) nouns.add(word.toLowerCase());
    }
    for (const name of set.names) {
      const found = /^([\p{L}]+) \d+/u.exec(name);
      if (found?.[1]) nouns.add(found[1].toLowerCase());
    }
  }
  return nouns;
}

function highestPlace(plan: Plan): number {
  const names = Object.values(plan.positions ?? {}).flatMap((set) => set.names);
  const numbers = names.flatMap((name) => (name.match(/\d+/g) ?? []).map(Number));
  return Math.max(0, ...numbers);
}

/** Torques of the stages and limits of the plan: "six fifty" is 650 where one of them is. */
function figuresOf(plan: Plan): ReadonlySet<number> {
  const figures = new Set<number>();
  for (const ask of plan.steps.flatMap((step) => step.report ?? [])) {
    if (ask.kind === 'tightening' || ask.kind === 'loosening')
      for (const stage of ask.stages)
        for (const one of [stage.torque, stage.angle]) if (one !== undefined) figures.add(one);
    if (ask.kind === 'quantity')
      for (const one of [ask.min, ask.max]) if (one !== undefined) figures.add(one);
  }
  return figures;
}
