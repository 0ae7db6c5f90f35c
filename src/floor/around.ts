// What the checker must know that is not in a job's own events: other jobs on the vehicle, people, tools, working time.
import type { Settings } from '../../shared/settings.ts';
import type { RegisteredTool } from '../../shared/tools.ts';
import { calendarOf } from '../desk/calendar.ts';
import type { Around, JobView } from '../job/view.ts';
import type { IndexEntry } from '../store/job-store.ts';
import { workingMinutes } from '../trade/working-time.ts';

const sameVehicle = (a: string, b: string): boolean =>
  a.trim().toLowerCase() === b.trim().toLowerCase();

/** The part that is the same for every job of the workshop. */
export const surroundings = (settings: Settings, tools: readonly RegisteredTool[]): Around => {
  const calendar = calendarOf(settings);
  return {
    people: settings.people.map(({ name, roles, competences }) => ({
      name,
      roles,
      ...(competences ? { competences } : {}),
    })),
    tools: tools.map(({ id, kind, due }) => ({ id, kind, ...(due ? { due } : {}) })),
    ...(settings['back-again-days'] === undefined
      ? {}
      : { backAgainDays: settings['back-again-days'] }),
    ...(calendar
      ? {
          calendar,
          workingMinutes: (from: string, to: string) => {
            const counted = workingMinutes(calendar, Date.parse(from), Date.parse(to));
            return counted.ok ? counted.value.working : 0;
          },
        }
      : {}),
  };
};

/** The highest odometer or hour meter that a job on the vehicle was opened with: the vehicle has run at least that. */
const highest = (views: readonly JobView[]): Pick<Around, 'reading'> => {
  const readings = views.flatMap(({ opened }) => opened.reading ?? []);
  const [first] = readings;
  if (!first) return {};
  const alike = readings.filter(({ unit }) => unit === first.unit);
  return {
    reading: alike.reduce((top, each) => (each.value > top.value ? each : top), first),
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
  ...highest(
    others.filter(
      (view) => view.job !== own.job && sameVehicle(view.opened.vehicle.name, own.vehicle),
    ),
  ),
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
