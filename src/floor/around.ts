// What the checker must know that is not in a job's own events: other jobs on the vehicle, people, tools, working time.
import type { Settings } from '../../shared/settings.ts';
import type { RegisteredTool } from '../../shared/tools.ts';
import { calendarOf } from '../desk/calendar.ts';
import type { Around, JobView } from '../job/view.ts';
import type { IndexEntry } from '../store/job-store.ts';
import { workingMinutes } from '../trade/working-time.ts';

/** What is the same for two spellings of one vehicle's name. */
export const vehicleKey = (vehicle: string): string => vehicle.trim().toLowerCase();

const sameVehicle = (a: string, b: string): boolean => vehicleKey(a) === vehicleKey(b);

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

/** Days within which a job that is over may matter to one that is opened; see src/job/checks/back-again.ts. */
const USUAL_DAYS = 30;
const DAY = 86_400_000;

/** Jobs on a vehicle closed so lately that what they found is told when the same work comes again. */
export const closedLately = (
  index: readonly IndexEntry[],
  own: { readonly job: string; readonly vehicle: string },
  days: number | undefined,
  openedAt: string,
): readonly IndexEntry[] =>
  index.filter(
    ({ job, vehicle, closedAt, status }) =>
      job !== own.job &&
      status === 'closed' &&
      closedAt !== undefined &&
      sameVehicle(vehicle, own.vehicle) &&
      Date.parse(openedAt) - Date.parse(closedAt) <= (days ?? USUAL_DAYS) * DAY,
  );

/**
 * The part that depends on the vehicle: states other open jobs hold, and earlier jobs on it.
 * @param found what earlier jobs found, by their number, where it is known
 */
export const aroundVehicle = (
  shared: Around,
  own: { readonly job: string; readonly vehicle: string },
  index: readonly IndexEntry[],
  others: readonly JobView[],
  found: ReadonlyMap<string, readonly string[]> = new Map(),
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
    .map(({ job, plan, closedAt = '' }) => {
      const own = found.get(job);
      return { job, plan, closedAt, ...(own ? { found: own } : {}) };
    }),
});
