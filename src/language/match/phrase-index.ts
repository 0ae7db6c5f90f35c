// The phrases of a plan laid out for fast matching: by the words that occur in them, and by their families.
import type { ActionClass } from '../pack.ts';
import { kinship } from './kinship.ts';
import type { Phrase, StepPhrases } from './phrases.ts';

export type IndexedPhrase = {
  readonly id: number;
  readonly step: StepPhrases;
  /** Place of its step among the steps. */
  readonly stepAt: number;
  readonly phrase: Phrase;
  /** Phrases with the same families share this number. */
  readonly family: number;
  readonly roots: readonly string[];
  readonly weights: readonly number[];
  /** How rare each word is among the steps. */
  readonly rarity: readonly number[];
  readonly total: number;
  readonly work: boolean;
  readonly fluid: boolean;
  /** In the words a controller wrote for the step. */
  readonly written: boolean;
};

/** What is true of a step by its title. */
export type StepFacts = {
  readonly step: StepPhrases;
  /** It repeats an earlier one: "re-torque the wheel nuts", and not "refit" or "remove". */
  readonly again: boolean;
  readonly undoing: boolean;
};

export type PhraseIndex = {
  readonly byRoot: ReadonlyMap<string, readonly IndexedPhrase[]>;
  readonly all: readonly IndexedPhrase[];
  /** For each phrase the number of the ranking that looked at it last: scratch, of no meaning between rankings. */
  readonly lookedAt: Int32Array;
  /** What is true of each step by its title, in the order of the steps. */
  readonly facts: readonly StepFacts[];
  readonly families: readonly (readonly ActionClass[])[];
  /** For each family of action the phrases that a verb of it may mean without naming a part. */
  readonly byClass: ReadonlyMap<ActionClass, readonly IndexedPhrase[]>;
};

/** Families of work on a thing; "clamps done" means them rather than off, on or slackened. */
const WORK: ReadonlySet<ActionClass> = new Set<ActionClass>([
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

/** Lays out the phrases of all steps; phrases that say the same are kept once. */
export function indexPhrases(
  steps: readonly StepPhrases[],
  weightOf: ReadonlyMap<string, number>,
): PhraseIndex {
  const all: IndexedPhrase[] = [];
  const families: (readonly ActionClass[])[] = [];
  const familyOf = new Map<string, number>();
  const byRoot = new Map<string, IndexedPhrase[]>();
  const byClass = new Map<ActionClass, IndexedPhrase[]>();
  for (const [stepAt, step] of steps.entries()) {
    const seen = new Set<string>();
    for (const phrase of step.phrases) {
      const key = `${phrase.from}|${phrase.roots.join(' ')}|${[...phrase.parts].join(' ')}|${phrase.classes.join()}`;
      if (seen.has(key)) continue;
      seen.add(key);
      const familyKey = phrase.classes.join();
      let family = familyOf.get(familyKey);
      if (family === undefined) {
        family = families.length;
        familyOf.set(familyKey, family);
        families.push(phrase.classes);
      }
      const roots = [...phrase.parts.keys()];
      const rarity = roots.map((root) => weightOf.get(root) ?? 1.5);
      const weights = roots.map((root, i) => (rarity[i] ?? 1.5) * (phrase.parts.get(root) ?? 1));
      const indexed: IndexedPhrase = {
        id: all.length,
        step,
        stepAt,
        phrase,
        family,
        roots,
        weights,
        rarity,
        total: weights.reduce((sum, value) => sum + value, 0),
        work: phrase.classes.some((one) => WORK.has(one)),
        fluid: phrase.classes.some((one) => one === 'drain' || one === 'fill'),
        written: phrase.from === 'words',
      };
      all.push(indexed);
      for (const root of new Set([...roots, ...phrase.lemmas, ...phrase.roots])) {
        const list = byRoot.get(root);
        if (list) list.push(indexed);
        else byRoot.set(root, [indexed]);
      }
    }
  }
  const classes = new Set(families.flat());
  const said = new Set<ActionClass>([
    ...classes,
    'remove',
    'fit',
    'renew',
    'connect',
    'disconnect',
    'isolate',
    'tighten',
    'loosen',
    'drain',
    'fill',
    'support',
    'lift',
    'lower',
    'press',
    'clean',
    'check',
    'measure',
    'test',
    'stop',
    'apply',
    'enter',
  ]);
  for (const one of said) {
    byClass.set(
      one,
      all.filter((phrase) => phrase.phrase.classes.some((other) => kinship(one, other) >= 0.75)),
    );
  }
  return {
    byRoot,
    all,
    families,
    byClass,
    lookedAt: new Int32Array(all.length),
    facts: steps.map(factsOf),
  };
}

const factsOf = (step: StepPhrases): StepFacts => ({
  step,
  again: /^re-?(?:torque|tighten|check|test|measure|inspect)/i.test(step.title),
  undoing: step.phrases.some(
    (phrase) =>
      phrase.from === 'title' && phrase.classes.some((one) => one === 'loosen' || one === 'remove'),
  ),
});
