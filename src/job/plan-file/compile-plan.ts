import { createHash } from 'node:crypto';
import type { PlanFile } from '../../../shared/plan.ts';
import type { Plan } from '../plan.ts';
import { reachable, stepsBefore } from './step-order.ts';

/**
 * The plan with the look-ups that checking and reading need. `text` is the file as it stands; `hash` its SHA-256 in
 * hex over the UTF-8 bytes. The plan is taken to be free of complaints.
 */
export function compilePlan(file: PlanFile, text: string): Plan {
  const direct = new Map(file.steps.map((step) => [step.id, stepsBefore(step)]));
  const follows = new Map<string, string[]>(file.steps.map((step) => [step.id, []]));
  for (const [id, ties] of direct) for (const tie of ties) follows.get(tie)?.push(id);
  return {
    ...file,
    hash: createHash('sha256').update(text, 'utf8').digest('hex'),
    text,
    stepById: new Map(file.steps.map((step) => [step.id, step])),
    watchedById: new Map((file.watched ?? []).map((act) => [act.id, act])),
    before: reachable(direct),
    behind: reachable(follows),
    setOf: new Map(
      Object.entries(file.positions ?? {}).flatMap(([set, { names }]) =>
        names.map((name): [string, string] => [name, set]),
      ),
    ),
  };
}
