// What the checker must know that is not in a job's own events: other jobs on the vehicle, people, tools, working time.
import type { Settings } from '../../shared/settings.ts';
import type { Around, JobView } from '../job/view.ts';
import type { IndexEntry } from '../store/job-store.ts';
import {
  type ShiftDescription,
  WEEKDAYS,
  type WorkCalendar,
  workCalendar,
} from '../trade/work-calendar.ts';
import { workingMinutes } from '../trade/working-time.ts';

export type Tool = { readonly id: string; readonly kind: string; readonly due?: string };

const sameVehicle = (a: string, b: string): boolean =>
  a.trim().toLowerCase() === b.trim().toLowerCase();

/** The shifts of the settings as a calendar; undefined without shifts, then waiting counts in real minutes. */
export const calendarOf = (settings: Settings): WorkCalendar | undefined => {
  if (!settings.shifts?.length) return undefined;
  const week: Partial<Record<(typeof WEEKDAYS)[number], ShiftDescription[]>> = {};
  for (const day of WEEKDAYS)
    week[day] = settings.shifts
      .filter((shift) => shift.days.includes(day))
      .map((shift) => ({
        name: shift.name,
        from: shift.from,
        to: shift.to,
        ...(shift.breaks ? { breaks: shift.breaks.map(({ from, to }) => ({ from, to })) } : {}),
      }));
  const made = workCalendar({
    zone: settings.zone,
    week,
    ...(settings['days-off'] ? { daysOff: settings['days-off'] } : {}),
  });
  return made.ok ? made.value : undefined;
};

/** The part that is the same for every job of the workshop. */
export const surroundings = (settings: Settings, tools: readonly Tool[]): Around => {
  const calendar = calendarOf(settings);
  return {
    people: settings.people.map(({ name, roles, competences }) => ({
      name,
      roles,
      ...(competences ? { competences } : {}),
    })),
    tools,
    ...(settings['back-again-days'] === undefined
      ? {}
      : { backAgainDays: settings['back-again-days'] }),
    ...(calendar
      ? {
          workingMinutes: (from: string, to: string) => {
            const counted = workingMinutes(calendar, Date.parse(from), Date.parse(to));
            return counted.ok ? counted.value.working : 0;
          },
        }
      : {}),
  };
};

/** The part that depends on the vehicle: states other open jobs hold, and earlier jobs on it. */
export const aroundVehicle = (
  shared: Around,
  own: { readonly job: string; readonly vehicle: string },
  index: readonly IndexEntry[],
  others: readonly JobView[],
): Around => ({
  ...shared,
  otherStates: others
    .filter(
      (view) =>
        view.job !== own.job &&
        view.status === 'open' &&
        sameVehicle(view.opened.vehicle.name, own.vehicle),
    )
    .flatMap((view) => view.vehicleState.map((state) => ({ job: view.job, state }))),
  earlier: index
    .filter(
      (entry) =>
        entry.job !== own.job &&
        entry.closedAt !== undefined &&
        sameVehicle(entry.vehicle, own.vehicle),
    )
    .sort((a, b) => ((a.closedAt ?? '') < (b.closedAt ?? '') ? 1 : -1))
    .map((entry) => ({ job: entry.job, plan: entry.plan, closedAt: entry.closedAt ?? '' })),
});

export const onSameVehicle = (entry: Pick<IndexEntry, 'vehicle'>, vehicle: string): boolean =>
  sameVehicle(entry.vehicle, vehicle);
