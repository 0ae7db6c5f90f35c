// The plan of a job laid out from its opening: when each step would be begun and done at the plan's pace, by one pair
// of hands, in the hours of the workshop.
import type { JobView } from '../../job/view.ts';
import { layOut, layoutOf } from '../../trade/forecast/lay-out.ts';
import { meanOf } from '../../trade/forecast/work-ahead.ts';
import { workClock } from '../../trade/forecast/work-clock.ts';
import type { WorkCalendar } from '../../trade/work-calendar.ts';
import { jobRun } from './job-run.ts';

export type LaidPlan = ReadonlyMap<string, { readonly from: number; readonly to: number }>;

const WHO = 'hands';

/**
 * @returns for each step of the plan its first beginning and last end over its positions, ms since 1970 UTC; steps that
 * come after the vehicle has left are not in it
 */
export const planLaidOut = (view: JobView, calendar: WorkCalendar): LaidPlan => {
  const { whole } = jobRun(view, [WHO]);
  const start = Date.parse(view.opened.at);
  const afresh = { ...whole, steps: whole.steps.map((step) => ({ ...step, spent: 0 })) };
  const layout = layoutOf([afresh], new Map([[WHO, workClock(calendar, start)]]), start);
  const laid = layOut(
    layout,
    start,
    afresh.steps.map(({ time }) => meanOf(time)),
  );
  const spans = new Map<string, { from: number; to: number }>();
  for (const [index, { kind }] of afresh.steps.entries()) {
    const from = laid.begun[index] ?? start;
    const to = laid.done[index] ?? start;
    const known = spans.get(kind);
    spans.set(kind, {
      from: Math.min(known?.from ?? from, from),
      to: Math.max(known?.to ?? to, to),
    });
  }
  return spans;
};
