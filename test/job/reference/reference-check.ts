// The reference: a slow, obvious checker, written from the plan table and the settled list of the design. It answers
// the flags that stand, the states of the steps and of the vehicle, and whether the job could be closed.
import type { JobEvent } from '../../../shared/event.ts';
import type { Level, PlanFile, Step } from '../../../shared/plan.ts';
import { boxName, onPaper, positionsOf } from './job-on-paper.ts';
import { balance, countShort, redo, tooLittleOut } from './paper-balance.ts';
import { limits, stages, tooSoon, unsafe } from './paper-flags.ts';
import { holdIsReleased } from './paper-holds.ts';
import { pastHolds, skipped } from './paper-order.ts';
import { stateIsOpen } from './paper-states.ts';
import { checkRefused, type Progress, progressOf, runsOf } from './paper-steps.ts';
import { whatWasSaid } from './what-was-said.ts';

export type RefFlag = {
  readonly rule: string;
  readonly step: string | null;
  readonly position: string | null;
  readonly level: Level;
};
export type RefView = {
  readonly steps: readonly {
    readonly step: string;
    readonly position: string | null;
    readonly state: Progress;
  }[];
  readonly flags: readonly RefFlag[];
  readonly vehicleState: readonly string[];
  readonly closable: boolean;
};

export function referenceCheck(plan: PlanFile, events: readonly JobEvent[]): RefView {
  const paper = onPaper(plan, events);
  const { statements: all, elsewhere, unplaced } = whatWasSaid(paper, events);
  const job = { paper, events, all, runs: runsOf(paper, all) };
  const flags: RefFlag[] = [];
  const raise = (rule: string, step: Step, position: string | null, always?: Level) => {
    const flag = { rule, step: step.id, position, level: always ?? levelOf(step, rule) };
    const same = (one: RefFlag) =>
      one.rule === rule && one.step === step.id && one.position === position;
    if (!flags.some(same)) flags.push(flag);
  };

  for (const { step: id, position } of elsewhere) {
    const step = plan.steps.find((one) => one.id === id);
    if (step) raise('wrong-position', step, position);
  }
  for (const { what, when } of unplaced) unsafe(job, what, null, when, raise);
  for (const one of all) {
    const { box } = one;
    if (!box) continue;
    unsafe(job, box.step, box.position, one.when, raise);
    if (checkRefused(paper, job.runs, box, one)) {
      raise('same-hands', box.step, box.position, 'stop');
    }
    skipped(job, one, box, raise);
    pastHolds(job, one, box, raise);
    tooSoon(job, one, box, raise);
    tooLittleOut(job, one, box, raise);
    limits(job, one, box, raise);
    stages(job, one, box, raise);
  }
  countShort(job, raise);
  balance(job, raise);
  redo(job, levelOf, raise);
  const steps = plan.steps.flatMap((step) =>
    positionsOf(plan, paper.opened, step).map((position) => {
      const box = paper.boxes.find((one) => one.step.id === step.id && one.position === position);
      const state = box ? progressOf(paper, job.runs, box) : 'not-on-job';
      return { step: step.id, position, state };
    }),
  );
  const end = Number.MAX_SAFE_INTEGER;
  const vehicleState = Object.keys(plan.states ?? {}).filter((state) =>
    stateIsOpen(job, state, end),
  );
  const held = paper.boxes.filter((box) => box.step.hold && !holdIsReleased(job, box, end));
  const closable =
    steps.every(({ state }) => state === 'done' || state === 'not-on-job') &&
    vehicleState.length === 0 &&
    held.map(boxName).length === 0 &&
    flags.every(({ rule, level }) => rule !== 'out-of-limits' && level === 'advice');
  return { steps, flags, vehicleState, closable };
}

const LEVELS: readonly Level[] = ['advice', 'caution', 'stop'];
function levelOf(step: Step, rule: string): Level {
  const usual = { 'safety-critical': 2, 'damage-critical': 1, routine: 0 }[
    step.weight ?? 'routine'
  ];
  const raised = step.raise?.[rule];
  return LEVELS[Math.max(usual, raised === undefined ? 0 : LEVELS.indexOf(raised))] ?? 'stop';
}
