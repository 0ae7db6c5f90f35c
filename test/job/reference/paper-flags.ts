// The other flags on paper: states of the vehicle, waiting, figures and stages.
import type { Step } from '../../../shared/plan.ts';
import { type Box, boxName } from './job-on-paper.ts';
import type { PaperJob, Raise } from './paper-order.ts';
import { stateIsOpen } from './paper-states.ts';
import { doneAt, doneFrom } from './paper-steps.ts';
import type { Statement } from './what-was-said.ts';

/** Something reported that the state of the vehicle forbids at that moment. */
export function unsafe(job: PaperJob, one: Statement, raise: Raise): void {
  const { plan } = job.paper;
  const it = one.box?.step ?? plan.watched?.find((act) => act.id === one.watched);
  if (!it) return;
  for (const [name, state] of Object.entries(plan.states ?? {})) {
    const act = it.is !== undefined && state.forbids?.includes(it.is);
    if (!act && !it['not-while']?.includes(name)) continue;
    if (stateIsOpen(job, name, one.when)) {
      raise('unsafe-state', it as Step, one.box?.position ?? null, 'stop');
    }
  }
}

/** A step was reported before its waiting time after another was over. */
export function tooSoon({ paper, runs }: PaperJob, one: Statement, box: Box, raise: Raise): void {
  for (const wait of box.step.waits ?? []) {
    const samePlaces = (other: Box) =>
      box.step.each !== undefined && other.step.each === box.step.each;
    const first = paper.boxes.filter(
      (other) =>
        other.step.id === wait.after && (!samePlaces(other) || other.position === box.position),
    );
    for (const needed of first) {
      const run = doneAt(paper, runs, needed, one.when);
      const from = run && doneFrom(paper, runs, run);
      if (from !== undefined && one.when - from < wait.minutes * 60_000) {
        raise('too-soon', box.step, box.position);
      }
    }
  }
}

/** The ends of a range are allowed values. */
export function limits(one: Statement, box: Box, raise: Raise): void {
  const value = one.act.quantity?.value;
  if (value === undefined) return;
  for (const ask of box.step.report ?? []) {
    if (ask.kind === 'quantity') {
      const low = ask.min !== undefined && value < ask.min;
      const high = ask.max !== undefined && value > ask.max;
      if (low || high) raise('out-of-limits', box.step, box.position);
    }
    if (ask.kind !== 'tightening' || one.act.stage === undefined) continue;
    const stage = ask.stages[one.act.stage - 1];
    if (stage?.torque === undefined) continue;
    // In tenths, so that the ends of the range compare exactly.
    const off = Math.round(stage.torque * (stage.tolerance ?? 5)) / 100;
    if (Math.abs(value - stage.torque) > off) raise('out-of-limits', box.step, box.position);
  }
}

/** A stage was reported before the one below it, or twice. */
export function stages({ runs }: PaperJob, one: Statement, box: Box, raise: Raise): void {
  const { stage } = one.act;
  if (stage === undefined || one.kind !== 'done') return;
  const run = runs.get(boxName(box))?.find((other) => other.said.includes(one));
  const earlier = (run?.said ?? []).filter(
    (other) => other.kind === 'done' && other.when < one.when,
  );
  const below = earlier.some((other) => other.act.stage === stage - 1);
  if (stage > 1 && !below) raise('stage-order', box.step, box.position);
  if (earlier.some((other) => other.act.stage === stage)) {
    raise('stage-repeat', box.step, box.position);
  }
}
