// Opening a data folder: its lock, its files, and looking at the jobs that a crash may have left between two files.
import { join } from 'node:path';
import { type AwakeJobs, awakeJobs } from './awake-jobs.ts';
import type { FileSeam } from './file-seam.ts';
import { type FolderLock, lockFolder, type Processes } from './folder-lock.ts';
import { type Inbox, openInbox } from './inbox.ts';
import { type JobFiles, jobFiles } from './job-files.ts';
import type { Queued } from './job-form.ts';
import { type JobIndex, openIndex } from './job-index.ts';
import type { JobQueues } from './job-queues.ts';
import type { SetAside } from './job-store.ts';
import { type MarksFile, openMarks } from './marks.ts';
import { lookAtJobs } from './opening.ts';
import { setLinesAside } from './set-aside.ts';
import { codeOf, diskTrouble, StoreTrouble } from './store-trouble.ts';
import { inboxMissing, type Teller } from './teller.ts';
import { writeWhole } from './whole-write.ts';

/** While this is in a folder, a start looks at every job. Its text says whether the folder was restored. */
export const LOOK_MARK = 'look-at-all.mark';
export const RESTORED = 'restored';

export type Ground = {
  readonly files: FileSeam;
  readonly folder: string;
  readonly clock: () => string;
  readonly salt: () => string;
  readonly machine: Processes;
  readonly queues: JobQueues;
  readonly teller: Teller;
};

export type OpenStore = {
  readonly lock: FolderLock;
  readonly inbox: Inbox;
  readonly index: JobIndex;
  readonly jobs: JobFiles;
  readonly awake: AwakeJobs;
  readonly marks: MarksFile;
  /** Posts still to be made, by job. */
  readonly outbox: Map<string, readonly Queued[]>;
  /** Jobs whose file is gone, was set aside, or is left alone, with what a caller is told. */
  readonly lost: Map<string, StoreTrouble>;
};

type Closing = { readonly close: () => Promise<void> };

/** @throws StoreTrouble where the folder is locked, was written by a newer version, or the disk refuses. */
export async function openStore(
  ground: Ground,
): Promise<{ readonly store: OpenStore; readonly setAside: readonly SetAside[] }> {
  const { files, folder } = ground;
  let lock: FolderLock | undefined;
  const begun: Closing[] = [];
  try {
    for (const part of ['', 'jobs', 'files']) await files.makeFolder(join(folder, part));
    lock = await lockFolder(files, folder, ground.clock(), ground.machine);
    const opened = await openLocked(ground, lock, begun);
    await files.syncFolder(folder);
    return opened;
  } catch (error) {
    for (const file of begun) await file.close();
    await lock?.release().catch(() => undefined);
    throw diskTrouble(error, 'Opening the data folder', folder);
  }
}

async function readMark(files: FileSeam, path: string): Promise<string | undefined> {
  try {
    return Buffer.from(await files.read(path)).toString('utf8');
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return undefined;
    throw error;
  }
}

async function openLocked(
  ground: Ground,
  lock: FolderLock,
  begun: Closing[],
): Promise<{ readonly store: OpenStore; readonly setAside: readonly SetAside[] }> {
  const { files, folder, queues, teller } = ground;
  const aside: SetAside[] = [];
  const markPath = join(folder, LOOK_MARK);
  const inboxPath = join(folder, 'inbox.jsonl');
  const mark = await readMark(files, markPath);
  const hasJobs = (await files.names(join(folder, 'jobs'))).length > 0;
  let all = mark !== undefined;
  // Said before a file is written anew, for a crash right after that would leave no trace of what was missing in it.
  const lookAtAll = async (): Promise<void> => {
    if (!all && hasJobs) await writeWhole(files, markPath, Buffer.from('damaged'));
    all = true;
  };
  const { inbox, absent } = await openInbox(files, inboxPath, teller.tell, async (damaged) => {
    await lookAtAll();
    if (damaged.length === 0) return;
    aside.push(await setLinesAside(files, folder, inboxPath, damaged, ground.clock()));
  });
  begun.push(inbox);
  const index = await openIndex(files, join(folder, 'index.jsonl'), teller.tell, lookAtAll);
  begun.push(index);
  const jobs = jobFiles(files, join(folder, 'jobs'), ground.salt, inbox.wake);
  const marksPath = join(folder, 'marks.jsonl');
  const marks = await openMarks(files, marksPath, teller.tell, async (damaged) => {
    aside.push(await setLinesAside(files, folder, marksPath, damaged, ground.clock()));
  });
  begun.push(marks);
  const restored = mark === RESTORED;
  const now = ground.clock();
  const looked = await lookAtJobs({ files, folder, jobs, index, inbox, all, restored, now });
  const outbox = new Map(looked.outbox);
  const lost = new Map(looked.lost);
  const busy = (job: string): boolean => outbox.has(job) || lost.has(job);
  const awake = awakeJobs(inbox, index, queues, busy, teller);
  await index.sync();
  for (const job of outbox.keys()) await inbox.wake(job);
  awake.sleepNow();
  if (all) await inbox.rewrite();
  if (all && hasJobs) await files.remove(markPath);
  aside.push(...looked.setAside);
  for (const { file, movedTo, why } of aside) {
    const todo = `It is now ${movedTo}. Put it back from a backup.`;
    teller.tell(new StoreTrouble('damaged', why, file, todo));
  }
  if (absent && hasJobs && !restored) teller.tell(inboxMissing(inboxPath));
  for (const trouble of [...lost.values(), ...looked.unread]) teller.tell(trouble);
  return { store: { lock, inbox, index, jobs, awake, marks, outbox, lost }, setAside: aside };
}
