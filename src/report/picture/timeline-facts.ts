// What the timeline of a job shows, before it is drawn: phases with plan and reports, waits, flags.
import type { JobEvent } from '../../../shared/event.ts';
import { type Flag, flagKey } from '../../../shared/flag.ts';
import { PHASES } from '../../../shared/plan.ts';
import type { LaidPlan } from '../../desk/forecast/plan-laid-out.ts';
import { stepTitle } from '../../desk/say.ts';
import { announcedFlags, messagesOf } from '../../desk/turn/log.ts';
import type { JobView } from '../../job/view.ts';

export type PhaseLine = {
  readonly phase: (typeof PHASES)[number];
  readonly done: number;
  readonly of: number;
  /** Hands-on minutes of the plan, (best + 4 likely + worst) / 6 for each step and position. */
  readonly minutes: number;
  /** When the plan would have it, ms since 1970 UTC; null where the plan has no time for it before the vehicle leaves. */
  readonly planned: { readonly from: number; readonly to: number } | null;
  /** ISO times of the first and last report; null before the first. */
  readonly from: string | null;
  readonly to: string | null;
};

export const phaseLines = (view: JobView, plan: LaidPlan): readonly PhaseLine[] =>
  PHASES.flatMap((phase) => {
    const ids = new Set(view.plan.steps.filter((step) => step.phase === phase).map(({ id }) => id));
    const steps = view.steps.filter(({ step, state }) => ids.has(step) && state !== 'not-on-job');
    if (steps.length === 0) return [];
    const minutes = steps.reduce((sum, { step }) => {
      const time = view.plan.stepById.get(step)?.time;
      return sum + (time ? (time.best + 4 * time.likely + time.worst) / 6 : 0);
    }, 0);
    const spans = [...plan].filter(([step]) => ids.has(step)).map(([, span]) => span);
    const times = view.reports
      .filter(({ act }) => ids.has(act.step ?? ''))
      .map(({ when }) => when)
      .sort((a, b) => Date.parse(a) - Date.parse(b));
    return [
      {
        phase,
        done: steps.filter(({ state }) => state === 'done').length,
        of: steps.length,
        minutes,
        planned:
          spans.length === 0 || minutes === 0
            ? null
            : {
                from: Math.min(...spans.map(({ from }) => from)),
                to: Math.max(...spans.map(({ to }) => to)),
              },
        from: times[0] ?? null,
        to: times.at(-1) ?? null,
      },
    ];
  });

export type Mark = { readonly at: number; readonly flag: Flag };

/** Each flag where it was first said, else where the report that raised it was posted; flags of one moment are one mark. */
export const marksOf = (view: JobView, events: readonly JobEvent[]): readonly Mark[] => {
  const said = announcedFlags(events);
  const posted = new Map<string, string>();
  for (const event of events)
    if (event.kind === 'message-posted') posted.set(event.message, event.at);
  return view.flags.flatMap((flag) => {
    const at = said.get(flagKey(flag))?.at ?? posted.get(flag.raisedBy[0] ?? '');
    return at === undefined ? [] : [{ at: Date.parse(at), flag }];
  });
};

export type WaitSpan = {
  readonly from: string;
  /** Null while it still waits. */
  readonly to: string | null;
  readonly says: string;
};

/** What blocked the job and what blocks it, and the hold points that wait for a release since their step was done. */
export const waitSpans = (view: JobView, events: readonly JobEvent[]): readonly WaitSpan[] => {
  const still = new Set(view.blocked.map(({ message }) => message));
  const now = view.blocked.map(({ since, says }): WaitSpan => ({ from: since, to: null, says }));
  const holds = view.holds
    .filter(({ state }) => state === 'waits')
    .flatMap(({ step, position }): readonly WaitSpan[] => {
      const since = view.steps.find((one) => one.step === step && one.position === position)?.at;
      if (!since) return [];
      const at = position === null ? '' : `, ${position}`;
      return [{ from: since, to: null, says: `release of "${stepTitle(view, step)}"${at}` }];
    });
  return [...pastWaits(view, events, still), ...now, ...holds].sort(
    (a, b) => Date.parse(a.from) - Date.parse(b.from),
  );
};

/** A wait is over when it is said to go on, or when the step that was stopped is reported. */
const pastWaits = (
  view: JobView,
  events: readonly JobEvent[],
  still: ReadonlySet<string>,
): readonly WaitSpan[] => {
  const said = messagesOf(events)
    .filter(({ deleted }) => !deleted)
    .flatMap(({ message, at, text, acts }) => acts.map((act) => ({ message, at, text, act })));
  const ends = [
    ...said.filter(({ act }) => act.kind === 'resumed').map(({ at, act }) => ({ at, act })),
    ...view.reports.map(({ posted, act }) => ({ at: posted, act })),
  ].sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  return said
    .filter(({ act, message }) => act.kind === 'blocked' && !still.has(message))
    .flatMap(({ at, text, act }): readonly WaitSpan[] => {
      const end = ends.find(
        (other) =>
          Date.parse(other.at) > Date.parse(at) &&
          (other.act.kind === 'resumed'
            ? other.act.step === undefined || act.step === undefined || other.act.step === act.step
            : act.step !== undefined && other.act.step === act.step),
      );
      return end ? [{ from: at, to: end.at, says: act.note ?? text ?? 'work stood still' }] : [];
    });
};
