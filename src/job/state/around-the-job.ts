// People on the job, what blocks it, findings, and whether it is open.
import type { Blocked, Finding, JobView } from '../view.ts';
import type { Job } from './job.ts';

/** Who is on the job and when it is promised, as last changed. */
export function people(job: Job): Pick<JobView, 'technician' | 'controller' | 'promised'> {
  let { technician, controller, promised } = job.opened;
  for (const { event } of job.events) {
    if (event.kind !== 'job-changed') continue;
    technician = event.technician ?? technician;
    controller = event.controller ?? controller;
    if (event.promised !== undefined) promised = event.promised ?? undefined;
  }
  return { technician, controller, promised };
}

export function statusOf(job: Job): JobView['status'] {
  let status: JobView['status'] = 'open';
  for (const { event } of job.events) {
    if (event.kind === 'job-closed') status = 'closed';
    if (event.kind === 'job-cancelled') status = 'cancelled';
    if (event.kind === 'job-reopened') status = 'open';
  }
  return status;
}

/** The last release to the road; opening the job again takes it back. */
export function roadReleased(job: Job): Pick<JobView, 'roadReleased'> {
  let released: JobView['roadReleased'];
  for (const { event } of job.events) {
    if (event.kind === 'road-released') released = { by: event.by, at: event.at };
    if (event.kind === 'job-reopened') released = undefined;
  }
  return released === undefined ? {} : { roadReleased: released };
}

/** Something seen that was not the job, and what the controller decided about it. */
export function findings(job: Job): readonly Finding[] {
  const settled = new Map<string, Finding['state']>();
  for (const { event } of job.events) {
    if (event.kind === 'finding-settled') settled.set(event.message, event.settled);
  }
  const seen = new Set<string>();
  return job.others.flatMap(({ act, record, postedIso }): Finding[] => {
    if (act.kind !== 'finding' || seen.has(record.message)) return [];
    seen.add(record.message);
    return [
      {
        message: record.message,
        by: record.by,
        at: postedIso,
        says: act.note ?? record.text ?? 'a finding whose text was removed',
        state: settled.get(record.message) ?? 'open',
      },
    ];
  });
}

/** What stops the work now: until it is said to go on, or the step that was stopped is reported. */
export function blocked(job: Job): readonly Blocked[] {
  const resumed = job.others.filter(({ act }) => act.kind === 'resumed');
  const lastOfStep = new Map<string, number>();
  for (const { report, posted } of job.posting) lastOfStep.set(report.act.step ?? '', posted);
  return job.others.flatMap(({ act, record, posted, postedIso }): Blocked[] => {
    if (act.kind !== 'blocked') return [];
    const over =
      resumed.some(
        (other) =>
          other.posted > posted &&
          (other.act.step === undefined || act.step === undefined || other.act.step === act.step),
      ) ||
      (act.step !== undefined && (lastOfStep.get(act.step) ?? -Infinity) > posted);
    const says = act.note ?? record.text ?? 'a reason whose text was removed';
    if (over) return [];
    const { message, by, text } = record;
    return [{ message, by, since: postedIso, says, ...(text ? { text } : {}) }];
  });
}
