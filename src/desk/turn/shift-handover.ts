// As a shift ends, each job that was worked on in it is handed over: said in its thread, kept in its record, once.
import type { JobEvent } from '../../../shared/event.ts';
import { addDays, localDate } from '../../trade/local-time.ts';
import { type DatedShift, shiftsOn, type WorkCalendar } from '../../trade/work-calendar.ts';
import { handoverCard } from '../answers/handover.ts';
import { phaseOf } from '../answers/where.ts';
import type { Post } from '../card.ts';
import type { JobState, Moment } from './turn.ts';

/** A handover that comes later than this after the shift's end helps nobody: the program was down. */
const STILL_WORTH = 4 * 3_600_000;

const shiftsAround = (calendar: WorkCalendar, now: number): readonly DatedShift[] => {
  const today = localDate(calendar.zone, now);
  return [-2, -1, 0].flatMap((days) => shiftsOn(calendar, addDays(today, days)));
};

const eventId = ({ date, name }: Pick<DatedShift, 'date' | 'name'>): string =>
  `handover:${date}:${name}`;

/**
 * Whether somebody who works this shift reported work in it, was held up in it or clocked on: with shifts that overlap,
 * their own counts.
 */
const workedIn = ({ view }: JobState, shift: DatedShift, { workshop }: Moment): boolean => {
  const works = new Map(workshop.settings.people.map(({ name, shifts }) => [name, shifts]));
  const inIt = (at: number, who: string): boolean =>
    at >= shift.from && at < shift.to && (works.get(who)?.includes(shift.name) ?? true);
  return (
    view.reports.some(
      ({ posted, reporter, act }) => act.step !== undefined && inIt(Date.parse(posted), reporter),
    ) ||
    view.blocked.some(({ since, by }) => inIt(Date.parse(since), by)) ||
    view.clockings.some(({ instant, who, kind }) => kind !== 'booked' && inIt(instant, who))
  );
};

const isOn = ({ workshop }: Moment): boolean =>
  workshop.calendar !== undefined && workshop.settings.notes?.['shift-end'] !== false;

const takenSince = ({ events }: JobState, since: number): boolean =>
  events.some(
    (event) =>
      event.kind === 'handed-over' && event.to !== undefined && Date.parse(event.at) >= since,
  );

/** Milliseconds at which the shift ends in which the job was last worked on; undefined where none runs. */
export const nextHandover = (state: JobState, moment: Moment): number | undefined => {
  const { calendar } = moment.workshop;
  if (!calendar || !isOn(moment) || state.view.status !== 'open') return undefined;
  const now = Date.parse(moment.now);
  const ends = shiftsAround(calendar, now)
    .filter((shift) => shift.from <= now && shift.to > now && workedIn(state, shift, moment))
    .map(({ to }) => to);
  return ends.length > 0 ? Math.min(...ends) : undefined;
};

/** The handover of the shift that ended last, where it is due and was not made. */
export const shiftHandover = (
  state: JobState,
  moment: Moment,
): { readonly events: readonly JobEvent[]; readonly posts: readonly Post[] } => {
  const nothing = { events: [], posts: [] };
  const { calendar, settings } = moment.workshop;
  const { view } = state;
  if (!calendar || !isOn(moment) || view.status !== 'open') return nothing;
  const now = Date.parse(moment.now);
  const ended = shiftsAround(calendar, now)
    .filter(({ to }) => to <= now && now - to <= STILL_WORTH)
    .filter((shift) => workedIn(state, shift, moment))
    .sort((a, b) => a.to - b.to)
    .at(-1);
  if (!ended) return nothing;
  const id = eventId(ended);
  if (state.events.some((event) => event.id === id) || takenSince(state, ended.to)) return nothing;
  const card = handoverCard(view, moment.now, settings.zone, {
    events: state.events,
    around: moment.around,
    shift: ended.name,
  });
  const phase = phaseOf(view);
  return {
    events: [
      {
        id,
        at: moment.now,
        by: 'chargehand',
        kind: 'handed-over',
        shift: `${ended.date} ${ended.name}`,
        ...(phase ? { phase } : {}),
        says: card.text,
      },
    ],
    posts: [{ key: id, to: { where: 'thread' }, card, edit: false, urgent: false }],
  };
};
