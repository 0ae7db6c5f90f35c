// Who is at work now and may settle a stop: the job's controller first, then the others on shift.
import { DateTime } from 'luxon';
import type { Settings, Shift } from '../../shared/settings.ts';
import type { JobView } from '../job/view.ts';

const DAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;

const minutesOf = (clock: string): number =>
  Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3, 5));

/** Whether a shift runs at an instant; a shift that ends before it begins runs across midnight. */
export const shiftRuns = (shift: Shift, now: string, zone: string): boolean => {
  const at = DateTime.fromISO(now, { zone });
  if (!at.isValid) return false;
  const minute = at.hour * 60 + at.minute;
  const today = DAYS[at.weekday - 1];
  const yesterday = DAYS[(at.weekday + 5) % 7];
  const from = minutesOf(shift.from);
  const to = minutesOf(shift.to);
  const on = (day: string | undefined): boolean => shift.days.some((other) => other === day);
  if (from < to) return on(today) && minute >= from && minute < to;
  return (on(today) && minute >= from) || (on(yesterday) && minute < to);
};

/** Names of those who may settle a stop, in the order in which they are asked. Roles count, whoever is on shift. */
export const onShiftWhoMay = (
  settings: Settings,
  view: Pick<JobView, 'controller'>,
  _now: string,
): readonly string[] => {
  const may = settings.people.filter((person) => person.roles.includes('controller'));
  const managers = settings.people.filter(
    (person) => person.roles.includes('manager') && !person.roles.includes('controller'),
  );
  const own = may.filter((person) => person.name === view.controller);
  const others = may.filter((person) => person.name !== view.controller);
  return [...own, ...others, ...managers].map((person) => person.name);
};
