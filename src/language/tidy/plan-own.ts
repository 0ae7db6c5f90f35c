// What a vocabulary takes from a plan.
import type { Splitter } from './compounds.ts';
import type { VerbForm } from './token.ts';

/** Words of the open plan, with the roots they are compared by. */
export type PlanWords = ReadonlySet<string>;

/** The verbs that titles of the plan begin with, by their forms. */
export type PlanVerbs = ReadonlyMap<string, { readonly lemma: string; readonly form: VerbForm }>;

/** What a vocabulary takes from the plan beside its words. */
export type PlanOwn = {
  /** First words of titles. */
  readonly lemmas: ReadonlySet<string>;
  readonly compounds: ReadonlySet<string>;
  /** Root of a word to the words that stand before it in the plan. */
  readonly pairs: ReadonlyMap<string, ReadonlySet<string>>;
  readonly sides: Readonly<Record<string, readonly string[]>>;
  readonly figures: ReadonlySet<number>;
  /** Nouns as the plan writes them. */
  readonly nouns: ReadonlySet<string>;
  readonly split?: Splitter;
};

export const NOTHING_OWN: PlanOwn = {
  lemmas: new Set(),
  compounds: new Set(),
  pairs: new Map(),
  sides: {},
  figures: new Set(),
  nouns: new Set(),
};
