// Labour by operation against the plan. What is booked is booked on the job; how it falls on the operations is taken
// from the times between one person's reports, and is called that.
import type { JobView, Report } from '../../job/view.ts';

export type ClaimLabour = {
  readonly step: string;
  readonly title: string;
  /** Positions at which it is done, of those on the job. */
  readonly done: number;
  readonly of: number;
  /** Expected hands-on minutes for what is done: (best + 4 likely + worst) / 6 for each position; null without times. */
  readonly planned: number | null;
  /** Minutes from the same person's report before it; null where hours may not be shown or none came before. */
  readonly between: number | null;
};

/** Minutes between two ISO instants; working minutes where the caller knows the shifts. */
export type MinutesBetween = (from: string, to: string) => number;

export const clockMinutes: MinutesBetween = (from, to) =>
  (Date.parse(to) - Date.parse(from)) / 60_000;

/**
 * Minutes for each step. The time since a person's report before is shared equally by the steps a message reports; what
 * came before a person's first report is not known and counts for nothing.
 */
const minutesByStep = (view: JobView, between: MinutesBetween): ReadonlyMap<string, number> => {
  const minutes = new Map<string, number>();
  const since = new Map<string, string>();
  const byMessage = new Map<string, Report[]>();
  for (const report of view.reports)
    if (report.act.step !== undefined)
      byMessage.set(report.message, [...(byMessage.get(report.message) ?? []), report]);
  const inOrder = [...byMessage.values()].sort(
    (a, b) => Date.parse(a[0]?.posted ?? '') - Date.parse(b[0]?.posted ?? ''),
  );
  for (const reports of inOrder) {
    const [first] = reports;
    if (!first) continue;
    const from = since.get(first.reporter);
    since.set(first.reporter, first.posted);
    if (from === undefined) continue;
    const steps = [...new Set(reports.map(({ act }) => act.step ?? ''))];
    const share = Math.max(0, between(from, first.posted)) / steps.length;
    for (const step of steps) minutes.set(step, (minutes.get(step) ?? 0) + share);
  }
  return minutes;
};

export const claimLabour = (
  view: JobView,
  between: MinutesBetween | undefined,
): readonly ClaimLabour[] => {
  const minutes = between ? minutesByStep(view, between) : new Map<string, number>();
  return view.plan.steps.flatMap((step): readonly ClaimLabour[] => {
    const own = view.steps.filter((one) => one.step === step.id && one.state !== 'not-on-job');
    const done = own.filter(({ state }) => state === 'done').length;
    if (own.length === 0 || (done === 0 && !minutes.has(step.id))) return [];
    const mean = step.time && (step.time.best + 4 * step.time.likely + step.time.worst) / 6;
    return [
      {
        step: step.id,
        title: step.title,
        done,
        of: own.length,
        planned: mean === undefined ? null : Math.round(mean * done * 10) / 10,
        between: minutes.has(step.id) ? Math.round((minutes.get(step.id) ?? 0) * 10) / 10 : null,
      },
    ];
  });
};
