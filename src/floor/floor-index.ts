// The jobs as the floor knows them, found by number, by vehicle and by being open, so that a message costs the same
// however many jobs are stored.
import type { IndexEntry } from '../store/job-store.ts';
import { vehicleKey } from './around.ts';
import { NO_JOB } from './say-outside.ts';

export type FloorIndex = {
  readonly get: (job: string) => IndexEntry | undefined;
  readonly set: (entry: IndexEntry) => void;
  readonly all: () => IterableIterator<IndexEntry>;
  /** In the order in which they were first known. */
  readonly open: () => readonly IndexEntry[];
  /** Every job on a vehicle, closed ones too. */
  readonly onVehicle: (vehicle: string) => readonly IndexEntry[];
  /** Numbers of all jobs; the same list until one is new. */
  readonly numbers: () => readonly string[];
};

export const floorIndex = (): FloorIndex => {
  const all = new Map<string, IndexEntry>();
  const open = new Map<string, IndexEntry>();
  const byVehicle = new Map<string, Map<string, IndexEntry>>();
  let numbers: readonly string[] | undefined;
  return {
    get: (job) => all.get(job),
    set: (entry) => {
      const { job } = entry;
      const before = all.get(job);
      if (before === undefined) numbers = undefined;
      all.set(job, entry);
      if (entry.status === 'open' && job !== NO_JOB) open.set(job, entry);
      else open.delete(job);
      const key = vehicleKey(entry.vehicle);
      if (before !== undefined && vehicleKey(before.vehicle) !== key)
        byVehicle.get(vehicleKey(before.vehicle))?.delete(job);
      const there = byVehicle.get(key);
      if (there) there.set(job, entry);
      else byVehicle.set(key, new Map([[job, entry]]));
    },
    all: () => all.values(),
    open: () => [...open.values()],
    onVehicle: (vehicle) => [...(byVehicle.get(vehicleKey(vehicle))?.values() ?? [])],
    numbers: () => {
      numbers ??= [...all.keys()].filter((job) => job !== NO_JOB);
      return numbers;
    },
  };
};
