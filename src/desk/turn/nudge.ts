// What waits for long is brought to the controller's mind: each thing once, those of one look on one card.
import type { JobEvent } from '../../../shared/event.ts';
import type { Settings } from '../../../shared/settings.ts';
import type { WorkCalendar } from '../../trade/work-calendar.ts';
import { afterWorkingMinutes, isInShift } from '../../trade/working-time.ts';
import type { Post } from '../card.ts';
import { whoMaySettle } from '../on-shift.ts';
import { duration, ended } from '../say.ts';
import { type Wait, waitsIn, waitWords } from '../waits.ts';
import type { JobState, Moment } from './turn.ts';

/** Working minutes after which the controller is told; our own value, no source, the settings may change it. */
const USUAL_MINUTES = 60;
const MINUTE = 60_000;

export const nudgeMinutes = (settings: Pick<Settings, 'nudge-after-minutes'>): number =>
  settings['nudge-after-minutes'] ?? USUAL_MINUTES;

/** When something has waited long enough, milliseconds: in working time where shifts are known. */
const dueAt = (
  since: string,
  minutes: number,
  calendar: WorkCalendar | undefined,
): number | undefined => {
  const from = Date.parse(since);
  if (!calendar) return from + minutes * MINUTE;
  const due = afterWorkingMinutes(calendar, from, minutes);
  return due.ok ? due.value.instant : undefined;
};

type Due = { readonly wait: Wait; readonly at: number };

/** Open questions have a flag of their own; all else that waits is told once. */
const duesOf = ({ view, events }: JobState, { workshop }: Moment): readonly Due[] => {
  if (view.status !== 'open') return [];
  const told = new Set(
    events.flatMap((event) => (event.kind === 'wait-nudged' ? [event.wait] : [])),
  );
  const { settings, calendar } = workshop;
  const names = settings.people.map(({ name }) => name);
  return waitsIn(view, names).flatMap((wait): Due[] => {
    if (wait.kind === 'answer' || wait.since === undefined || told.has(wait.key)) return [];
    const at = dueAt(wait.since, nudgeMinutes(settings), calendar);
    return at === undefined ? [] : [{ wait, at }];
  });
};

/** Milliseconds at which the next thing has waited long enough. */
export const nextNudge = (state: JobState, moment: Moment): number | undefined => {
  const times = duesOf(state, moment).map(({ at }) => at);
  return times.length > 0 ? Math.min(...times) : undefined;
};

/** Tells the controller on shift; outside every shift it waits for the next one. */
export const nudge = (
  state: JobState,
  moment: Moment,
  turn: string,
): { readonly events: readonly JobEvent[]; readonly posts: readonly Post[] } => {
  const now = Date.parse(moment.now);
  const { settings, calendar } = moment.workshop;
  if (calendar && !isInShift(calendar, now)) return { events: [], posts: [] };
  const due = duesOf(state, moment).filter(({ at }) => at <= now);
  const [to] = whoMaySettle(settings, calendar, state.view, moment.now).names;
  if (due.length === 0 || to === undefined) return { events: [], posts: [] };
  const { view } = state;
  const says = due.map(({ wait }) => ended(waitWords(wait, moment.now, settings.zone)));
  const head = `Waiting for ${duration(nudgeMinutes(settings))} or longer, job ${view.job}, ${view.opened.vehicle.name}`;
  const what = 'See to it, or say in the thread when it comes. This is told once.';
  return {
    events: due.map(({ wait }, index) => ({
      id: `${turn}:nudged:${wait.key}`,
      at: moment.now,
      by: 'chargehand',
      kind: 'wait-nudged',
      wait: wait.key,
      to,
      says: says[index] ?? wait.says,
    })),
    posts: [
      {
        key: `nudge:${turn}`,
        to: { where: 'thread' },
        card: {
          title: head,
          text: `${head}. ${says.join(' ')} For ${to}. ${what}`,
          blocks: [
            { kind: 'list', items: says },
            { kind: 'text', text: what },
          ],
          tells: [to],
        },
        edit: false,
        urgent: false,
      },
    ],
  };
};
