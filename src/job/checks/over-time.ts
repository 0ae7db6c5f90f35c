// Means: more time is booked on the job than the plan gives at its worst for all steps on the job.
// Why it matters: the vehicle will be late, and the next one with it; often something was found that is not on record.
// What to do: say what holds the job up, as a finding or a block, and tell whoever waits for the vehicle.
// When it may be left: when the cause is known; it stands only in the summary.
import type { Check } from './check.ts';

export const overTime: Check = {
  rule: 'over-time',
  run: (job) => {
    const planned = job.graph.nodes
      .filter(({ onJob }) => onJob)
      .reduce((sum, { step }) => sum + (job.plan.stepById.get(step)?.time?.worst ?? 0), 0);
    const clockings = job.others.filter(({ act }) => act.kind === 'clock');
    const last = clockings.at(-1);
    if (planned === 0 || last === undefined || job.minutesBooked <= planned) return [];
    const booked = Math.round(job.minutesBooked);
    return [
      {
        step: null,
        position: null,
        part: null,
        says: `Over time: ${booked} min booked, at most ${Math.round(planned)} min planned for all steps. Job ${job.opened.job}. Say what holds it up, and tell whoever waits for the vehicle.`,
        raisedBy: [last.record.message],
        coveredFrom: last.posted,
      },
    ];
  },
};
