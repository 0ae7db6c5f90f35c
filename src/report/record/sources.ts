// What every part of the record looks into: the job as it stands, and its events in order with each counted once.
import type { JobEvent, JobEventKind, JobEventOf } from '../../../shared/event.ts';
import { canonical } from '../../job/facts/canonical.ts';
import type { JobView, Report } from '../../job/view.ts';

export type Sources = {
  readonly view: JobView;
  readonly events: readonly JobEvent[];
  readonly titleOf: (step: string) => string;
  /** The report of a message on a step at a position; the last one where there are several. */
  readonly reportOf: (
    message: string,
    step?: string,
    position?: string | null,
  ) => Report | undefined;
};

export const sourcesOf = (view: JobView, given: readonly JobEvent[]): Sources => {
  const byMessage = new Map<string, Report[]>();
  for (const report of view.reports)
    byMessage.set(report.message, [...(byMessage.get(report.message) ?? []), report]);
  return {
    view,
    events: canonical(given).map(({ event }) => event),
    titleOf: (step) =>
      view.plan.stepById.get(step)?.title ?? view.plan.watchedById.get(step)?.title ?? step,
    reportOf: (message, step, position = null) => {
      const all = byMessage.get(message) ?? [];
      const own = step === undefined ? all : all.filter(({ act }) => act.step === step);
      return (
        own.findLast(({ act }) => position !== null && act.positions.includes(position)) ??
        own.at(-1) ??
        all.at(-1)
      );
    },
  };
};

export const eventsOf = <K extends JobEventKind>(
  { events }: Pick<Sources, 'events'>,
  kind: K,
): readonly JobEventOf<K>[] =>
  events.filter((event): event is JobEventOf<K> => event.kind === kind);

/** Who a report is by, and when: its own, else those of the event that carries the message, else of the opening. */
export const seenIn = (
  sources: Sources,
  message: string,
  step?: string,
  position: string | null = null,
): { readonly at: string; readonly by: string } => {
  const report = sources.reportOf(message, step, position);
  if (report) return { at: report.when, by: report.worker };
  const event = sources.events.find(
    (one) => one.id === message || (one.kind === 'message-posted' && one.message === message),
  );
  const { at, by } = event ?? sources.view.opened;
  return { at, by };
};

/** Reports of one run of a step at one position, in the order of posting. */
export const reportsOn = (
  { view }: Pick<Sources, 'view'>,
  progress: { readonly step: string; readonly position: string | null },
  messages?: readonly string[],
): readonly Report[] =>
  view.reports.filter(
    ({ act, message }) =>
      act.step === progress.step &&
      (messages === undefined || messages.includes(message)) &&
      (progress.position === null ||
        act.positions.length === 0 ||
        act.positions.includes(progress.position)),
  );
