// A job as the forecast sees it: its steps with their times and ties, when each was done, whose hands are on it.
import type { Step } from '../../../shared/plan.ts';
import { stepsBefore } from '../../job/plan-file/step-order.ts';
import type { JobView, StepProgress } from '../../job/view.ts';
import type { JobRun } from '../../trade/forecast/pace.ts';
import type { WorkStep } from '../../trade/forecast/work-ahead.ts';
import { meanOf } from '../../trade/forecast/work-ahead.ts';

const DAY_MINUTES = 24 * 60;
const MINUTE = 60_000;

const idOf = (step: string, position: string | null): string => `${step}|${position ?? ''}`;

/** Done after the vehicle has left: by distance, or more than a day later. It does not keep the job from being ready. */
export const comesAfter = ({ within }: Step): boolean =>
  within !== undefined && (within.km !== undefined || (within.minutes ?? 0) > DAY_MINUTES);

/** Steps at positions that come directly before one, through those that are not on the job. */
const before = (view: JobView, progress: StepProgress): readonly string[] => {
  const found = new Set<string>();
  const look = (id: string, position: string | null): void => {
    const step = view.plan.stepById.get(id);
    if (!step) return;
    for (const name of stepsBefore(step)) {
      const each = view.plan.stepById.get(name)?.each;
      const same = each !== undefined && each === step.each;
      for (const one of view.steps)
        if (one.step === name && (!same || one.position === position)) {
          if (one.state === 'not-on-job') look(name, one.position);
          else found.add(idOf(name, one.position));
        }
    }
  };
  look(progress.step, progress.position);
  return [...found];
};

/** Share of a step that is partly reported: the stages that are done of those the plan has, else half. */
const shareDone = (step: Step, { stages, state }: StepProgress): number => {
  if (state !== 'partial') return 0;
  const asked = step.report?.find((ask) => ask.kind === 'tightening' || ask.kind === 'loosening');
  const all = asked && 'stages' in asked ? (asked.stages?.length ?? 0) : 0;
  return all > 0 ? stages.length / all : 0.5;
};

const stepAhead = (view: JobView, progress: StepProgress, step: Step): WorkStep => {
  const { best = 0, likely = 0, worst = 0 } = step.time ?? {};
  const time = { o: best, m: likely, p: worst };
  const waits = (step.waits ?? []).flatMap(({ after, minutes }) =>
    view.steps
      .filter((one) => one.step === after && one.state !== 'not-on-job')
      .filter(
        (one) =>
          view.plan.stepById.get(after)?.each !== step.each || one.position === progress.position,
      )
      .map((one) => ({ after: idOf(after, one.position), minutes })),
  );
  const longest = Math.max(0, ...waits.map(({ minutes }) => minutes));
  return {
    id: idOf(progress.step, progress.position),
    kind: progress.step,
    time,
    // A step that itself waits for the cooling has it in both; it is the same time and counted once.
    handsOff: Math.max(0, (step.time?.['hands-off'] ?? 0) - longest),
    after: before(view, progress),
    waits,
    spent: shareDone(step, progress) * meanOf(time),
  };
};

/** When work began: the first clocking on or start said, else the first report less the usual time of what it reports. */
const beginning = (view: JobView): number => {
  const opened = Date.parse(view.opened.at);
  const begun = view.reports
    .filter(({ act }) => act.kind === 'clock' || act.kind === 'started')
    .map(({ when }) => Date.parse(when));
  const reports = view.reports.filter(({ act }) => act.step !== undefined);
  const first = Math.min(...reports.map(({ when }) => Date.parse(when)), Number.POSITIVE_INFINITY);
  const [message] = reports.filter(({ when }) => Date.parse(when) === first);
  const minutes = reports
    .filter((report) => report.message === message?.message)
    .reduce((sum, { act }) => {
      const time = view.plan.stepById.get(act.step ?? '')?.time;
      const once = time ? meanOf({ o: time.best, m: time.likely, p: time.worst }) : 0;
      return sum + once * Math.max(1, act.positions.length) + (time?.['hands-off'] ?? 0);
    }, 0);
  const told = Math.min(...begun, first);
  if (!Number.isFinite(told)) return opened;
  const guessed = first - 2 * minutes * MINUTE;
  return Math.max(opened, begun.includes(told) ? told : guessed);
};

/** How many people work on a job at once: those whose reports run beside each other for an hour of one day. */
export const handsAtOnce = (view: JobView): number => {
  const days = new Map<string, { from: number; to: number; count: number }>();
  for (const { worker, when, act } of view.reports) {
    if (act.step === undefined) continue;
    const at = Date.parse(when);
    const key = `${worker}|${when.slice(0, 10)}`;
    const known = days.get(key);
    if (known) {
      known.from = Math.min(known.from, at);
      known.to = Math.max(known.to, at);
      known.count += 1;
    } else days.set(key, { from: at, to: at, count: 1 });
  }
  const spans = [...days.values()].filter(({ count, from, to }) => count >= 3 && to > from);
  const beside = (at: number): number =>
    spans.filter(({ from, to }) => from <= at && to >= at + 60 * MINUTE).length;
  return Math.max(1, ...spans.map(({ from }) => beside(from)));
};

/** @param people whose hands are on it; left out: as many as worked on it at once */
export const jobRun = (view: JobView, people?: readonly string[]): JobRun => {
  const steps: WorkStep[] = [];
  const doneAt = new Map<string, number>();
  for (const progress of view.steps) {
    const step = view.plan.stepById.get(progress.step);
    if (!step || progress.state === 'not-on-job' || comesAfter(step)) continue;
    const made = stepAhead(view, progress, step);
    steps.push(made);
    if (progress.state === 'done') doneAt.set(made.id, Date.parse(progress.at ?? view.opened.at));
  }
  return {
    whole: {
      job: view.job,
      steps,
      people: people ?? Array.from({ length: handsAtOnce(view) }, (_, n) => `hands ${n + 1}`),
    },
    start: beginning(view),
    doneAt,
  };
};
