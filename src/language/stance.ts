// What a clause says about the work: done, begun, not done, meant, asked, doubted.
import type { ActKind } from '../../shared/reading.ts';
import type { Clause } from './clause.ts';
import type { Tongue } from './lexicon.ts';
import type { StepPhrases } from './match/phrases.ts';

export type Stance = {
  /** The kind of act, or nothing at all. */
  readonly kind: ActKind | 'nothing';
  readonly rule: string;
  /** Words of what blocks or was seen are kept as a note. */
  readonly note?: boolean;
  /** Only part of what the step needs; the rest is named behind the exception. */
  readonly exceptFrom?: number;
  /** Reported without a verb: only a step that fits well is taken. */
  readonly weak?: boolean;
  readonly again?: boolean;
  /** A thing is still as it was: what is not done is the opposite of the words. */
  readonly still?: boolean;
  /** Not done by tool: only tightening can be meant. */
  readonly handTight?: boolean;
  /** The step, where the plan's own words for it stand there. */
  readonly step?: StepPhrases;
};

/** One small rule: a sentence a technician would sign, and what it makes of a clause. */
export type Rule = {
  readonly name: string;
  readonly says: string;
  readonly read: (clause: Clause, tongue: Tongue) => Omit<Stance, 'rule'> | undefined;
};

/** Examples beside a rule. `yes`: the rule speaks. `no`: it does not. `ask`: the message ends in a question. */
export type Examples = {
  readonly yes: readonly (string | { readonly text: string; readonly previous?: string })[];
  readonly no: readonly string[];
  readonly ask: readonly string[];
  /** Other rules that may speak for the same clause without harm. */
  readonly also?: readonly string[];
};

/** The first rule of the list that speaks, left out those that are switched off. */
export function stanceOf(
  clause: Clause,
  tongue: Tongue,
  rules: readonly Rule[],
  off?: ReadonlySet<string>,
): Stance | undefined {
  for (const rule of rules) {
    if (off?.has(rule.name)) continue;
    const stance = rule.read(clause, tongue);
    if (stance) return { ...stance, rule: rule.name };
  }
  return undefined;
}
