// What has to be looked at when a store starts: after a clean stop nothing, after a crash the jobs that were awake,
// and all jobs where the inbox or the index cannot tell.
import { join } from 'node:path';
import { fileNameOf } from './file-name.ts';
import type { FileSeam } from './file-seam.ts';
import type { Inbox } from './inbox.ts';
import { fingerprint } from './inbox-lines.ts';
import type { JobFiles } from './job-files.ts';
import type { Queued } from './job-form.ts';
import type { JobIndex } from './job-index.ts';
import type { SetAside } from './job-store.ts';
import { setAside } from './set-aside.ts';
import { StoreTrouble } from './store-trouble.ts';
import { jobMissing } from './teller.ts';

export type Looked = {
  readonly setAside: readonly SetAside[];
  /** Posts still waiting, by job. */
  readonly outbox: ReadonlyMap<string, readonly Queued[]>;
  /** Jobs that the index knows and whose file is not there, or was left alone because it cannot be read. */
  readonly lost: ReadonlyMap<string, StoreTrouble>;
  /** Files that were left alone; the others go on. */
  readonly unread: readonly StoreTrouble[];
};

export type Opening = {
  readonly files: FileSeam;
  readonly folder: string;
  readonly jobs: JobFiles;
  readonly index: JobIndex;
  readonly inbox: Inbox;
  /** Look at every job. */
  readonly all: boolean;
  /** Posts of a restored folder may have been posted since the backup. */
  readonly restored: boolean;
  readonly now: string;
};

/** Reads the jobs that have to be looked at; a damaged one is set aside and the others go on. */
export async function lookAtJobs(opening: Opening): Promise<Looked> {
  const { files, folder, jobs, index, inbox } = opening;
  const names = await jobs.names();
  const known = new Map(index.list().map(({ job }) => [`${fileNameOf(job)}.json`, job]));
  const awake = new Set([...inbox.awake()].map((job) => `${fileNameOf(job)}.json`));
  const wanted = names.filter((name) => opening.all || awake.has(name) || !known.has(name));
  const aside: SetAside[] = [];
  const outbox = new Map<string, readonly Queued[]>();
  const settled = new Set<string>();
  const unread = new Map<string, StoreTrouble>();
  for (const name of wanted) {
    try {
      const data = await jobs.read(name);
      if (data === undefined) continue;
      index.put(data.index);
      for (const key of data.settled) settled.add(key);
      if (data.outbox.length > 0) outbox.set(data.job, inDoubt(data.outbox, opening.restored));
    } catch (error) {
      if (!(error instanceof StoreTrouble)) throw error;
      if (error.kind === 'newer-format') {
        unread.set(name, error);
        continue;
      }
      if (error.kind !== 'damaged') throw error;
      aside.push(
        await setAside(files, folder, join(folder, 'jobs', name), error.what, opening.now),
      );
    }
  }
  for (const { delivery } of inbox.waiting()) {
    if (settled.has(fingerprint(delivery.id))) inbox.settledInJob(delivery.id);
  }
  if (opening.all) inbox.remember(settled);
  const missing = (job: string, name: string): StoreTrouble =>
    jobMissing(job, join(folder, 'jobs', name));
  const gone = new Set(aside.map((a) => a.file));
  const there = new Set(names.filter((name) => !gone.has(join(folder, 'jobs', name))));
  const lost = new Map<string, StoreTrouble>();
  for (const [name, job] of known) {
    const trouble = unread.get(name) ?? (there.has(name) ? undefined : missing(job, name));
    if (trouble !== undefined) lost.set(job, trouble);
  }
  return { setAside: aside, outbox, lost, unread: [...unread.values()] };
}

function inDoubt(queue: readonly Queued[], restored: boolean): readonly Queued[] {
  if (!restored) return queue;
  return queue.map((q) => ({ ...q, entry: { ...q.entry, state: 'unclear' as const } }));
}
