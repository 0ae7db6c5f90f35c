// The other flags on paper: states of the vehicle, waiting, figures and stages.
import type { PlanFile, Step } from '../../../shared/plan.ts';
import { type Box, boxName } from './job-on-paper.ts';
import type { PaperJob, Raise } from './paper-order.ts';
import { openPlaces } from './paper-states.ts';
import { doneAt, doneFrom } from './paper-steps.ts';
import { endOf, type Statement } from './what-was-said.ts';

/** Something reported that the state of the vehicle forbade at that moment, and the state has not ended since. */
export function unsafe(
  job: PaperJob,
  what: Act | Step,
  position: string | null,
  when: number,
  raise: Raise,
): void {
  for (const [name, state] of Object.entries(job.paper.plan.states ?? {})) {
    const act = what.is !== undefined && state.forbids?.includes(what.is);
    if (!act && !what['not-while']?.includes(name)) continue;
    const now = openPlaces(job, name, Number.MAX_SAFE_INTEGER);
    for (const [place, opening] of openPlaces(job, name, when)) {
      // What the step itself has opened, here or at another position, does not stand against it.
      if (opening.when >= when || opening.step === what.id || now.get(place)?.when !== opening.when)
        continue;
      raise('unsafe-state', what as Step, position, 'stop');
    }
  }
}

type Act = NonNullable<PlanFile['watched']>[number];

/** Whether a statement belongs to the run in hand: what was done again or undone since is over. */
const inHand = ({ runs }: PaperJob, one: Statement, box: Box): boolean =>
  runs.get(boxName(box))?.at(-1)?.said.includes(one) ?? false;

/** A step was reported before its waiting time after another was over. */
export function tooSoon(job: PaperJob, one: Statement, box: Box, raise: Raise): void {
  const { paper, runs } = job;
  if (!inHand(job, one, box)) return;
  for (const wait of box.step.waits ?? []) {
    const samePlaces = (other: Box) =>
      box.step.each !== undefined && other.step.each === box.step.each;
    const first = paper.boxes.filter(
      (other) =>
        other.step.id === wait.after && (!samePlaces(other) || other.position === box.position),
    );
    for (const needed of first) {
      const run = doneAt(paper, runs, needed, endOf(one.when));
      const from = run && doneFrom(paper, runs, run);
      if (from !== undefined && Math.floor(one.when) - Math.floor(from) < wait.minutes * 60_000) {
        raise('too-soon', box.step, box.position);
      }
    }
  }
}

/** The ends of a range are allowed values. */
export function limits(job: PaperJob, one: Statement, box: Box, raise: Raise): void {
  const value = one.act.quantity?.value;
  const run = job.runs.get(boxName(box))?.at(-1);
  if (value === undefined || !run?.said.includes(one)) return;
  for (const ask of box.step.report ?? []) {
    if (ask.kind === 'quantity') {
      const low = ask.min !== undefined && value < ask.min;
      const high = ask.max !== undefined && value > ask.max;
      if (low || high) raise('out-of-limits', box.step, box.position);
    }
    if (ask.kind === 'drained' && ask.min !== undefined) {
      // All containers count together, and only once the draining is said to be done.
      const said = run.said.some((other) => other.kind === 'done');
      const total = run.said.reduce((sum, other) => sum + (other.act.quantity?.value ?? 0), 0);
      if (said && total < ask.min) raise('out-of-limits', box.step, box.position);
    }
    if (ask.kind !== 'tightening' || one.act.stage === undefined) continue;
    const stage = ask.stages[one.act.stage - 1];
    if (stage?.torque === undefined) continue;
    // In hundredths, so that the ends of the range compare exactly.
    const off = Math.round(stage.torque * (stage.tolerance ?? 5)) / 100;
    if (Math.abs(value - stage.torque) > off) raise('out-of-limits', box.step, box.position);
  }
}

/** A stage was reported before the one below it, or twice. */
export function stages(job: PaperJob, one: Statement, box: Box, raise: Raise): void {
  const { stage } = one.act;
  if (stage === undefined || one.kind !== 'done' || !inHand(job, one, box)) return;
  const said = (job.runs.get(boxName(box))?.at(-1)?.said ?? []).filter(
    ({ kind }) => kind === 'done',
  );
  const below = said.find((other) => other.act.stage === stage - 1);
  // Routine work that is known to have been done afterwards is a remark in the record.
  const routine = (box.step.weight ?? 'routine') === 'routine';
  const late = below !== undefined && below.when > endOf(one.when);
  if (stage > 1 && (!below || (late && !(routine && below.timeSaid)))) {
    raise('stage-order', box.step, box.position);
  }
  if (said.some((other) => other.act.stage === stage && other.when < one.when)) {
    raise('stage-repeat', box.step, box.position);
  }
}
