// The shipped plans on which the day's jobs run.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { loadPlan } from '../../../../src/job/load-plan.ts';
import type { Plan } from '../../../../src/job/plan.ts';
import { ROOT } from '../../../layout/sources.ts';

export const DAY_PLANS: readonly Plan[] = ['coolant-pump', 'clutch', 'hub-bearing'].map((name) => {
  const { plan } = loadPlan(readFileSync(join(ROOT, 'data/plans', `${name}.yaml`), 'utf8'), name);
  if (!plan) throw new Error(`The plan ${name} has errors.`);
  return plan;
});
