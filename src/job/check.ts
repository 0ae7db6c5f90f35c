import type { Flag } from '../../shared/flag.ts';
import { type Checked, settle } from './checks/check.ts';
import { CHECKS } from './checks/index.ts';
import { blocked, findings, people, roadReleased, statusOf } from './state/around-the-job.ts';
import { closeNeeds } from './state/close-needs.ts';
import { derive } from './state/derive.ts';
import { fluidTotals } from './state/fluids.ts';
import { holdStates } from './state/holds.ts';
import type { Job } from './state/job.ts';
import { nextSteps } from './state/next.ts';
import { openQuestions, ownWants, stillNeeded } from './state/questions.ts';
import { stepProgress } from './state/step-progress.ts';
import { openStates } from './state/vehicle-state.ts';
import type { Check, JobView, Want } from './view.ts';

/**
 * What is true of a job, from its plan and its recorded events alone.
 *
 * Pure: the same events give the same view in whatever order they arrive, and one delivered twice counts once.
 *
 * @param now ISO 8601 with offset: only what is overdue, unanswered or still being booked depends on it
 * @param around what is known of the vehicle's other jobs, of people and of tools; nothing is refused for want of it
 * @throws where the events do not open a job
 */
export const check: Check = (plan, events, now, around = {}) => {
  const job = derive(plan, events, now, around);
  const { flags, wants } = runChecks(job, CHECKS);
  return viewOf(job, flags, wants);
};

function runChecks(job: Job, checks: typeof CHECKS): Checked {
  const flags: Flag[] = [];
  const wants: Want[] = [...ownWants(job)];
  for (const rule of checks) {
    const soFar = { flags, wants, needsAt: (time: number) => needsAt(job, time) };
    const checked = settle(job, rule, rule.run(job, soFar));
    flags.push(...checked.flags);
    wants.push(...checked.wants);
  }
  return { flags, wants };
}

/** Closing is looked at as it stood then; whether it was tried before that does not bear on it. */
function needsAt(job: Job, time: number): readonly string[] {
  const until = job.events.filter(({ at }) => at <= time).map(({ event }) => event);
  const then = derive(job.plan, until, new Date(time).toISOString(), job.around);
  const checks = CHECKS.filter(({ rule }) => rule !== 'early-close');
  return closeNeeds(then, runChecks(then, checks).flags);
}

function viewOf(job: Job, flags: readonly Flag[], needed: readonly Want[]): JobView {
  const { plan, opened, frame, graph, done } = job;
  const questions = openQuestions(job, needed);
  return {
    job: opened.job,
    opened,
    plan,
    positions: new Map([...frame.positions].map(([set, names]) => [set, [...names.keys()]])),
    options: [...frame.options.keys()],
    ...people(job),
    reports: job.posting.map(({ report }) => report),
    steps: stepProgress(job),
    holds: holdStates(graph, done, job.holds),
    vehicleState: openStates(plan, job.states),
    flags,
    wants: stillNeeded(job, needed),
    questions,
    findings: findings(job),
    blocked: blocked(job),
    next: nextSteps(job),
    fluids: fluidTotals(job),
    closeNeeds: closeNeeds(job, flags),
    status: statusOf(job),
    ...roadReleased(job),
    clockings: job.clockings,
    minutesBooked: job.minutesBooked,
    lastEventAt: job.events.at(-1)?.event.at ?? opened.at,
  };
}
