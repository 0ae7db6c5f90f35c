// Loads a plan file for a command, or complains about it.
import { readFile } from 'node:fs/promises';
import { loadPlan } from '../job/load-plan.ts';
import type { Plan } from '../job/plan.ts';
import { complain } from './complain.ts';

/** @returns the plan, or undefined after the complaint was printed */
export const planFromFile = async (file: string | undefined): Promise<Plan | undefined> => {
  if (!file) {
    complain('No plan was given.', 'Name it: --plan data/plans/coolant-pump.yaml');
    return undefined;
  }
  let text: string;
  try {
    text = await readFile(file, 'utf8');
  } catch (error) {
    complain(
      `The plan ${file} cannot be read: ${(error as Error).message}`,
      'Check the path and the file.',
    );
    return undefined;
  }
  const { plan, complaints } = loadPlan(text, file);
  if (plan) return plan;
  const errors = complaints.filter((complaint) => complaint.level === 'error');
  complain(
    `${file} has ${errors.length} ${errors.length === 1 ? 'complaint' : 'complaints'}, the first in line ${errors[0]?.line ?? 1}: ${errors[0]?.what ?? ''}`,
    `Run "npx chargehand plan check ${file}" for all of them.`,
  );
  return undefined;
};

/** "cylinder 3,cylinder 5" as positions of the plan; a complaint where one is not. */
export const positionsFromList = (
  plan: Plan,
  words: string | undefined,
): readonly string[] | undefined => {
  if (words === undefined) return [];
  const asked = words
    .split(',')
    .map((word) => word.trim())
    .filter((word) => word !== '');
  const unknown = asked.find((word) => !plan.setOf.has(word));
  if (unknown === undefined) return asked;
  complain(
    `"${unknown}" is no position of the plan ${plan.plan}.`,
    `Its positions: ${[...plan.setOf.keys()].join(', ') || 'none'}.`,
  );
  return undefined;
};
