// Reading a data folder beside the process that works on it: no lock is taken and nothing is written. Job files are
// replaced as a whole, so each is read as it was at one moment.
import { join } from 'node:path';
import { z } from 'zod';
import { type ChainCheck, verifyChain } from './chain.ts';
import { damaged, durableFile } from './durable-file.ts';
import { fileNameOf } from './file-name.ts';
import { diskFiles, type FileSeam } from './file-seam.ts';
import { shownJob } from './job-change.ts';
import { JOB_FORMAT, type JobData, liftJob } from './job-form.ts';
import type { StoredJob } from './job-store.ts';
import { readJournal } from './journal.ts';
import { codeOf, diskTrouble, StoreTrouble } from './store-trouble.ts';

/** An older format that is only looked at gets salts of zeros; its chain begins when the store lifts it. */
const NO_SALT = '0'.repeat(32);

async function readJob(files: FileSeam, path: string): Promise<JobData | undefined> {
  const file = durableFile<JobData | null>(files, path, {
    format: JOB_FORMAT,
    lift: (format, data) => liftJob(format, data, () => NO_SALT),
    json: JSON.stringify,
  });
  const data = (await file.read()) ?? undefined;
  if (data !== undefined && !path.endsWith(`${fileNameOf(data.job)}.json`)) {
    throw damaged(path, `it holds job "${data.job}", whose file has another name`);
  }
  return data;
}

/**
 * One job as it is stored; undefined where it has no file.
 * @throws StoreTrouble where the file is damaged or the disk refuses.
 */
export async function readStoredJob(
  folder: string,
  job: string,
  files: FileSeam = diskFiles,
): Promise<StoredJob | undefined> {
  const data = await readJob(files, join(folder, 'jobs', `${fileNameOf(job)}.json`));
  return data === undefined ? undefined : shownJob(data);
}

export type FileCheck = {
  readonly file: string;
  /** Undefined where the file cannot be read. */
  readonly job?: string;
  readonly check: ChainCheck | StoreTrouble;
};

/**
 * Follows the chain of every stored job, in the order of their file names.
 * @throws StoreTrouble where the folder is not there or the disk refuses.
 */
export async function* verifyFolder(
  folder: string,
  files: FileSeam = diskFiles,
): AsyncGenerator<FileCheck> {
  const jobs = join(folder, 'jobs');
  let names: readonly string[];
  try {
    names = await files.names(jobs);
  } catch (error) {
    throw diskTrouble(error, 'Looking through the job files', jobs);
  }
  for (const name of [...names].sort()) {
    if (!name.startsWith('job-') || !name.endsWith('.json')) continue;
    const file = join(jobs, name);
    try {
      const data = await readJob(files, file);
      if (data !== undefined) yield { file, job: data.job, check: verifyChain(data.events) };
    } catch (error) {
      if (!(error instanceof StoreTrouble) || error.kind !== 'damaged') throw error;
      yield { file, check: error };
    }
  }
}

const IndexLine = z.object({ k: z.literal('job'), entry: z.object({ job: z.string() }) });

/**
 * The jobs that the index knows, so that a job file which is gone is missed; empty where there is no index.
 * @throws StoreTrouble where the disk refuses.
 */
export async function listedJobs(
  folder: string,
  files: FileSeam = diskFiles,
): Promise<ReadonlySet<string>> {
  const lines = await readJournal(files, join(folder, 'index.jsonl'));
  if (lines === 'absent') return new Set();
  return new Set(
    lines.values.flatMap((value) => {
      const line = IndexLine.safeParse(value);
      return line.success ? [line.data.entry.job] : [];
    }),
  );
}

/** Names of the files that a start set aside because they could not be read; empty where there are none. */
export async function filesSetAside(
  folder: string,
  files: FileSeam = diskFiles,
): Promise<readonly string[]> {
  try {
    const names = await files.names(join(folder, 'set-aside'));
    return names.filter((name) => !name.endsWith('.why.txt')).sort();
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return [];
    throw diskTrouble(error, 'Looking through the files set aside', folder);
  }
}
