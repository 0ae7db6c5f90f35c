// The job as one would lay it out on paper: every step at every position, and what comes directly before each.
// Slow and obvious on purpose. It shares no code with the checker, only the forms of the plan and of the events.
import type { JobEvent, JobOpened } from '../../../shared/event.ts';
import type { PlanFile, Step } from '../../../shared/plan.ts';

/** One step at one position; null where the step is once for the job. */
export type Box = { readonly step: Step; readonly position: string | null };

export type Paper = {
  readonly plan: PlanFile;
  readonly opened: JobOpened;
  readonly boxes: readonly Box[];
};

export function onPaper(plan: PlanFile, events: readonly JobEvent[]): Paper {
  const opened = events.find((event) => event.kind === 'job-opened');
  if (opened?.kind !== 'job-opened') throw new Error('the events do not open a job');
  const boxes: Box[] = [];
  for (const step of plan.steps) {
    if (step.option !== undefined && !opened.options.includes(step.option)) continue;
    for (const position of positionsOf(plan, opened, step)) boxes.push({ step, position });
  }
  return { plan, opened, boxes };
}

/** Positions of a step on this job: all that the plan names when the job names none of that set. */
export function positionsOf(
  plan: PlanFile,
  opened: JobOpened,
  step: Step,
): readonly (string | null)[] {
  if (step.each === undefined) return [null];
  const all = plan.positions?.[step.each]?.names ?? [];
  if (opened.positions.length === 0) return all;
  return all.filter((name) => opened.positions.includes(name));
}

export const boxName = (box: Box): string => `${box.step.id}@${box.position ?? ''}`;

/**
 * What stands directly before: the same position where both go over the same positions, otherwise all of them. A step
 * that only an option this job has not would bring is asked of nobody, but what it rests on is: the order goes through.
 */
export function directlyBefore(paper: Paper, box: Box): readonly Box[] {
  const { step } = box;
  const names = new Set([
    ...(step.after ?? []),
    ...(step.check ?? []),
    ...(step.waits ?? []).map((wait) => wait.after),
    ...(step.within ? [step.within.after] : []),
  ]);
  const found: Box[] = [];
  for (const name of names) {
    const other = paper.plan.steps.find((one) => one.id === name);
    if (!other) continue;
    for (const position of positionsOf(paper.plan, paper.opened, other)) {
      const samePlaces = other.each !== undefined && other.each === step.each;
      if (!samePlaces || position === box.position) found.push({ step: other, position });
    }
  }
  return found;
}

/** Everything before a box through the whole order, as far as it is on the job. */
export function allBefore(paper: Paper, box: Box): readonly Box[] {
  const found = through(paper, box);
  return paper.boxes.filter((other) => found.has(boxName(other)));
}

/** Everything on the job that rests on a box. */
export function allBehind(paper: Paper, box: Box): readonly Box[] {
  return paper.boxes.filter((other) => through(paper, other).has(boxName(box)));
}

function through(paper: Paper, box: Box): ReadonlySet<string> {
  const found = new Set<string>();
  const look = (from: Box): void => {
    for (const other of directlyBefore(paper, from)) {
      if (found.has(boxName(other))) continue;
      found.add(boxName(other));
      look(other);
    }
  };
  look(box);
  return found;
}
