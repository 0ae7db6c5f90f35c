// The plans of the project with their lexicons, for the tests of reading.
import { readdirSync, readFileSync } from 'node:fs';
import { loadPlan } from '../../src/job/load-plan.ts';
import type { Plan } from '../../src/job/plan.ts';
import { buildLexicon, type Lexicon } from '../../src/language/lexicon.ts';

const folder = new URL('../../data/plans/', import.meta.url);

const names = readdirSync(folder).filter((name) => name.endsWith('.yaml'));

export const plans: readonly Plan[] = names.flatMap((name) => {
  const { plan } = loadPlan(readFileSync(new URL(name, folder), 'utf8'), name);
  return plan ? [plan] : [];
});

const lexicons = new Map<string, Lexicon>();

/** The lexicon of the plan whose name begins so. */
export function lexiconFor(begins: string): Lexicon {
  const plan = plans.find((one) => one.plan.startsWith(begins));
  if (!plan) throw new Error(`No plan of data/plans begins with ${begins}. Name one that does.`);
  const have = lexicons.get(plan.plan);
  if (have) return have;
  const made = buildLexicon(plan);
  lexicons.set(plan.plan, made);
  return made;
}

export const allLexicons = (): readonly Lexicon[] => plans.map((plan) => lexiconFor(plan.plan));
