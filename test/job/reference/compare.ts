// The views of the checker and of the reference, brought to lines that can be compared.
import type { JobEvent } from '../../../shared/event.ts';
import type { PlanFile } from '../../../shared/plan.ts';
import { check } from '../../../src/job/check.ts';
import { compilePlan } from '../../../src/job/plan-file/compile-plan.ts';
import { referenceCheck } from './reference-check.ts';

/** The flags the reference knows about. */
const RULES: readonly string[] = [
  'skipped',
  'not-released',
  'unsafe-state',
  'out-of-limits',
  'stage-order',
  'stage-repeat',
  'wrong-position',
  'too-soon',
  'same-hands',
  'count-short',
  'volume-short',
  'redo',
];
const PEOPLE = ['Ana', 'Ben', 'Cal', 'Ines'].map((name) => ({
  name,
  roles: ['technician', 'controller'],
}));

type Line = string;
type Compared = {
  readonly steps: readonly Line[];
  readonly flags: readonly Line[];
  readonly vehicleState: readonly Line[];
  readonly closable: boolean;
};

/** What the checker says of a job. */
export function real(plan: PlanFile, events: readonly JobEvent[]): Compared {
  const view = check(compilePlan(plan, ''), events, '2026-03-02T18:00:00Z', { people: PEOPLE });
  const flags = view.flags.filter((flag) => RULES.includes(flag.rule) && !flag.clearedBy);
  return {
    steps: view.steps
      .map(({ step, position, state }) => `${step}@${position ?? ''} ${state}`)
      .sort(),
    flags: unique(
      flags.map(({ rule, step, position, level }) => `${rule} ${step}@${position ?? ''} ${level}`),
    ),
    vehicleState: view.vehicleState.map(({ state }) => state).sort(),
    closable: view.closeNeeds.length === 0,
  };
}

/** What the reference says of it. */
export function reference(plan: PlanFile, events: readonly JobEvent[]): Compared {
  const view = referenceCheck(plan, events);
  return {
    steps: view.steps
      .map(({ step, position, state }) => `${step}@${position ?? ''} ${state}`)
      .sort(),
    flags: unique(
      view.flags.map(
        ({ rule, step, position, level }) => `${rule} ${step}@${position ?? ''} ${level}`,
      ),
    ),
    vehicleState: [...view.vehicleState].sort(),
    closable: view.closable,
  };
}

const unique = (lines: readonly Line[]): readonly Line[] => [...new Set(lines)].sort();
