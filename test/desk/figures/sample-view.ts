// A job as the figures see it: a shipped plan with nothing reported, and what a test adds to it.
import { readFileSync } from 'node:fs';
import type { Act } from '../../../shared/reading.ts';
import { loadPlan } from '../../../src/job/load-plan.ts';
import type { JobView, Report } from '../../../src/job/view.ts';

/** The text of a shipped plan. */
export const planText = (plan: string): string =>
  readFileSync(new URL(`../../../data/plans/${plan}.yaml`, import.meta.url), 'utf8');

/** Job 1042 on a shipped plan, or on the text of another one, with every step open at every position. */
export function sampleView(
  plan: string,
  change: Partial<JobView> = {},
  text = planText(plan),
): JobView {
  const loaded = loadPlan(text, `${plan}.yaml`);
  if (!loaded.plan) throw new Error(JSON.stringify(loaded.complaints));
  const made = loaded.plan;
  const positions = new Map(
    Object.entries(made.positions ?? {}).map(([set, { names }]) => [set, names]),
  );
  return {
    job: '1042',
    opened: {
      id: 'opened',
      at: '2026-03-04T06:00:00Z',
      by: 'Wen',
      kind: 'job-opened',
      job: '1042',
      vehicle: { name: 'Bus 17' },
      plan: { id: made.plan, title: made.title, hash: made.hash, text },
      positions: [],
      options: [],
    },
    plan: made,
    positions,
    options: [],
    technician: 'Nell',
    controller: 'Wen',
    promised: undefined,
    reports: [],
    steps: made.steps
      .filter((step) => step.option === undefined)
      .flatMap((step) =>
        (step.each === undefined ? [null] : (positions.get(step.each) ?? [])).map((position) => ({
          step: step.id,
          position,
          state: 'open' as const,
          at: null,
          by: null,
          messages: [],
          stages: [],
          figures: [],
          missing: [],
          assumed: [],
        })),
      ),
    holds: [],
    vehicleState: [],
    flags: [],
    wants: [],
    questions: [],
    findings: [],
    blocked: [],
    next: [],
    fluids: [],
    closeNeeds: [],
    status: 'open',
    clockings: [],
    minutesBooked: 0,
    lastEventAt: '2026-03-04T06:00:00Z',
    ...change,
  };
}

/** A report that stands, as the checker hands it on. */
export function report(act: Partial<Act> & Pick<Act, 'step'>, index = 0): Report {
  return {
    message: `m${index}`,
    index,
    act: { kind: 'done', positions: [], assumed: [], span: [0, 0], ...act },
    posted: '2026-03-04T09:00:00Z',
    when: '2026-03-04T09:00:00Z',
    timeSaid: false,
    worker: 'Nell',
    reporter: 'Nell',
    role: 'technician',
  };
}
