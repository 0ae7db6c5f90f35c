// The jobs' own files, one for each, and the few of them that are kept in memory.
import { join } from 'node:path';
import { Low } from 'lowdb';
import type { StoredEvent } from '../../shared/event.ts';
import { type DurableFile, damaged, durableFile } from './durable-file.ts';
import { fileNameOf } from './file-name.ts';
import type { FileSeam } from './file-seam.ts';
import { JOB_FORMAT, type JobData, liftJob } from './job-form.ts';
import { diskTrouble, StoreTrouble } from './store-trouble.ts';
import { isWaitingName } from './whole-write.ts';

/** A job in memory takes about three times the length of its file. */
export const CACHE_FILE_BYTES = 24_000_000;

export type JobFiles = {
  /** The job as the disk has it; undefined where it has no file. */
  readonly get: (job: string) => Promise<JobData | undefined>;
  /** The job as memory has it, which is never ahead of the disk; undefined where it has to be read. */
  readonly inMemory: (job: string) => JobData | undefined;
  /** Resolves once the job is on the disk. Where it fails, memory keeps what the disk has. */
  readonly put: (data: JobData) => Promise<void>;
  /** Reads a file by its name, for looking through all of them. */
  readonly read: (name: string) => Promise<JobData | undefined>;
  /** Names of all job files; removes what a killed process left half written. */
  readonly names: () => Promise<readonly string[]>;
  readonly pathOf: (job: string) => string;
};

type Held = {
  readonly low: Low<JobData | null>;
  readonly adapter: DurableFile<JobData | null>;
  shown: JobData | undefined;
  /** A write failed: what the disk has is read again before anything else. */
  stale: boolean;
  /** Being written: it stays in memory, for only it knows whether the disk is in doubt. */
  busy: boolean;
};

const lineOf = new WeakMap<StoredEvent, string>();

function eventJson(event: StoredEvent): string {
  const known = lineOf.get(event);
  if (known !== undefined) return known;
  const json = JSON.stringify(event);
  lineOf.set(event, json);
  return json;
}

/** One event a line, so that a person can read the file and compare two of them. */
function jobJson(data: JobData): string {
  const { events, ...rest } = data;
  const head = JSON.stringify(rest).slice(0, -1);
  return `${head},"events":[\n${events.map(eventJson).join(',\n')}\n]}`;
}

function freeze<T>(value: T): T {
  if (typeof value !== 'object' || value === null || Object.isFrozen(value)) return value;
  Object.freeze(value);
  for (const inner of Object.values(value)) freeze(inner);
  return value;
}

export function jobFiles(
  files: FileSeam,
  folder: string,
  salt: () => string,
  before: (job: string) => Promise<void>,
): JobFiles {
  const held = new Map<string, Held>();
  let bytes = 0;

  const pathOf = (job: string): string => join(folder, `${fileNameOf(job)}.json`);

  const hold = (path: string, job: string | undefined): Held & { lifted: () => boolean } => {
    let lifted = false;
    const adapter = durableFile<JobData | null>(files, path, {
      format: JOB_FORMAT,
      lift: (format, data) => {
        lifted = format < JOB_FORMAT;
        return liftJob(format, data, salt);
      },
      json: (data) => (data === null ? 'null' : jobJson(data)),
      ...(job === undefined ? {} : { before: () => before(job) }),
    });
    // No default object is shared: each file begins with none.
    const low = new Low<JobData | null>(adapter, null);
    return { low, adapter, shown: undefined, stale: true, busy: false, lifted: () => lifted };
  };

  const refresh = async (item: Held & { lifted?: () => boolean }, path: string): Promise<void> => {
    item.low.data = null;
    await item.low.read();
    const { data } = item.low as { readonly data: JobData | null };
    if (data !== null && pathOf(data.job) !== path) {
      throw damaged(path, `it holds job "${data.job}", whose file has another name`);
    }
    if (data !== null && item.lifted?.()) await item.low.write();
    item.shown = data === null ? undefined : freeze(data);
    item.stale = false;
  };

  const makeRoom = (): void => {
    for (const [job, item] of held) {
      if (bytes <= CACHE_FILE_BYTES) return;
      if (item.stale || item.busy) continue;
      held.delete(job);
      bytes -= item.adapter.size();
    }
  };

  const heldFor = async (job: string): Promise<Held> => {
    const path = pathOf(job);
    let item = held.get(job);
    if (item === undefined) item = hold(path, job);
    else {
      held.delete(job);
      bytes -= item.adapter.size();
    }
    held.set(job, item);
    try {
      if (item.stale) await refresh(item, path);
    } catch (error) {
      if (error instanceof StoreTrouble && error.kind === 'damaged') held.delete(job);
      else bytes += item.adapter.size();
      throw error;
    }
    bytes += item.adapter.size();
    makeRoom();
    return item;
  };

  return {
    pathOf,
    get: async (job) => {
      const item = await heldFor(job);
      // A job that is not there takes no place, or asking for many would fill the memory.
      if (item.shown === undefined && held.delete(job)) bytes -= item.adapter.size();
      return item.shown;
    },
    inMemory: (job) => {
      const item = held.get(job);
      return item?.stale === false ? item.shown : undefined;
    },
    put: async (data) => {
      const item = await heldFor(data.job);
      const old = item.adapter.size();
      item.low.data = freeze(data);
      item.busy = true;
      try {
        await item.low.write();
        item.shown = data;
      } catch (error) {
        item.low.data = item.shown ?? null;
        item.stale = true;
        throw error;
      } finally {
        item.busy = false;
        bytes += item.adapter.size() - old;
      }
    },
    read: async (name) => {
      const item = hold(join(folder, name), undefined);
      await refresh(item, join(folder, name));
      return item.shown;
    },
    names: async () => {
      try {
        const all = await files.names(folder);
        for (const name of all.filter(isWaitingName)) await files.remove(join(folder, name));
        return all.filter((name) => name.startsWith('job-') && name.endsWith('.json'));
      } catch (error) {
        throw diskTrouble(error, 'Looking through the job files', folder);
      }
    },
  };
}
