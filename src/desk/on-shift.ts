// Who is at work now and may settle a stop: the job's controller first, then the others on shift.
import type { Person, Settings } from '../../shared/settings.ts';
import type { JobView } from '../job/view.ts';
import { localDate } from '../trade/local-time.ts';
import { type DatedShift, shiftsOn, type WorkCalendar } from '../trade/work-calendar.ts';

const DAY = 86_400_000;

/** The shifts that run at an instant, earliest first; one that began yesterday may run on. */
export const shiftsAt = (calendar: WorkCalendar, instant: number): readonly DatedShift[] => {
  const dates = new Set([-DAY, 0].map((apart) => localDate(calendar.zone, instant + apart)));
  return [...dates]
    .flatMap((date) => shiftsOn(calendar, date))
    .filter((shift) => shift.from <= instant && instant < shift.to);
};

/** Whether somebody is on shift: on one of their own where the settings name them, else on any that runs. */
export const isOnShift = (
  person: Pick<Person, 'shifts'>,
  running: readonly Pick<DatedShift, 'name'>[],
): boolean =>
  running.some(({ name }) => person.shifts === undefined || person.shifts.includes(name));

export type MaySettle = {
  /** Names in the order in which they are told, one after another. */
  readonly names: readonly string[];
  /** False where nobody of them is on shift: then all are told in turn, wherever they are. */
  readonly onShift: boolean;
};

/**
 * Who may settle a stop now, in the order in which they are told: the controller of the job, the other controllers,
 * then managers. Of these only those on shift; all of them where nobody is. Without shifts everybody counts as there.
 */
export const whoMaySettle = (
  settings: Settings,
  calendar: WorkCalendar | undefined,
  view: Pick<JobView, 'controller'>,
  now: string,
): MaySettle => {
  const rank = (person: Person): number =>
    !person.roles.includes('controller') ? 2 : person.name === view.controller ? 0 : 1;
  const may = settings.people
    .filter(({ roles }) => roles.includes('controller') || roles.includes('manager'))
    .sort((a, b) => rank(a) - rank(b));
  if (!calendar) return { names: may.map(({ name }) => name), onShift: true };
  const running = shiftsAt(calendar, Date.parse(now));
  const there = may.filter((person) => isOnShift(person, running));
  return {
    names: (there.length > 0 ? there : may).map(({ name }) => name),
    onShift: there.length > 0,
  };
};
