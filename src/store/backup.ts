// Backup of a data folder while the store works on it.
//
// The order makes the copy whole although messages go on arriving: the inbox first, so that nothing it calls settled is
// missing from the jobs copied after it; the index before the jobs, so that it names none that was not copied; kept
// files last, since an event that names one is written after it. What the copy holds twice, the first start sorts out:
// it looks at every job.
import { dirname, join, relative } from 'node:path';
import { type BackupList, LIST, needEmpty, sumOf } from './backup-list.ts';
import { parseText } from './durable-file.ts';
import { diskFiles, type FileSeam } from './file-seam.ts';
import { liftJob } from './job-form.ts';
import { LOOK_MARK } from './open-store.ts';
import { openLines } from './sealed-line.ts';
import { codeOf, diskTrouble, StoreTrouble } from './store-trouble.ts';
import { writeWhole } from './whole-write.ts';

const FIRST = ['inbox.jsonl', 'index.jsonl', 'marks.jsonl'];
const JOBS = 'jobs';

export type BackupReport = {
  readonly jobs: number;
  readonly files: number;
  readonly bytes: number;
  /** Job files that were damaged already; they are copied as they are. */
  readonly damaged: readonly string[];
};

/** True where the data folder exists and holds a store. */
async function holdsStore(folder: string, files: FileSeam): Promise<boolean> {
  try {
    await files.facts(join(folder, 'inbox.jsonl'));
    return true;
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return false;
    throw diskTrouble(error, 'Looking at the data folder', folder);
  }
}

export type BackupOptions = {
  readonly clock: () => string;
  readonly files?: FileSeam;
  /** Where in the folder the store is; left out where the folder itself is one. */
  readonly store?: string;
  /** Copied before everything else: what hands on to the store, and is handed on again where it is not in it. */
  readonly first?: readonly string[];
};

/** Left out: the lock, half-written files, the mark that only a restored folder has, and logs. */
const isLeftOut = (name: string): boolean =>
  name.startsWith('.') ||
  name.startsWith('lock.json') ||
  name === LOOK_MARK ||
  name.endsWith('.log');

async function walk(files: FileSeam, folder: string, inside: string): Promise<readonly string[]> {
  const paths: string[] = [];
  for (const name of [...(await files.names(join(folder, inside)))].sort()) {
    if (isLeftOut(name)) continue;
    const path = join(inside, name);
    if ((await files.facts(join(folder, path))).folder) {
      paths.push(...(await walk(files, folder, path)));
    } else paths.push(path);
  }
  return paths;
}

function chainEnd(bytes: Uint8Array): BackupList['chains'][number] | undefined {
  try {
    const { format, data } = parseText(Buffer.from(bytes).toString('utf8'));
    const job = liftJob(format, data, () => '0'.repeat(32));
    return { job: job.job, events: job.events.length, end: job.events.at(-1)?.hash ?? '' };
  } catch {
    return undefined;
  }
}

/**
 * Copies a data folder, settings and kept files included, while a store may be working on it.
 * @param to an empty or new folder; the list `backup.json` is written last, so a backup without it is not whole.
 * @throws StoreTrouble where there is no store, the place is taken, or the disk refuses.
 */
export async function backupStore(
  from: string,
  to: string,
  options: BackupOptions,
): Promise<BackupReport> {
  const files = options.files ?? diskFiles;
  try {
    if (!(await holdsStore(join(from, options.store ?? ''), files))) {
      throw new StoreTrouble(
        'missing',
        'There is no data of this program here to back up:',
        from,
        'Name the data folder that the program was started with.',
      );
    }
    const inside = relative(from, to);
    if (inside !== '' && !inside.startsWith('..')) {
      throw new StoreTrouble(
        'not-fitting',
        'A backup inside the folder that it is made of would hold itself:',
        to,
        'Name a folder elsewhere, best on another disk.',
      );
    }
    await needEmpty(files, to);
    return await copyOut(files, from, to, options);
  } catch (error) {
    throw diskTrouble(error, 'Making the backup', to);
  }
}

async function copyOut(
  files: FileSeam,
  from: string,
  to: string,
  { clock, store = '', first = [] }: BackupOptions,
): Promise<BackupReport> {
  const list: BackupList = {
    format: 1,
    madeAt: clock(),
    ...(store === '' ? {} : { store }),
    files: [],
    chains: [],
  };
  const jobs = join(store, JOBS);
  const damaged: string[] = [];
  await files.makeFolder(to);
  const copy = async (path: string): Promise<void> => {
    let bytes: Uint8Array;
    try {
      bytes = await files.read(join(from, path));
    } catch (error) {
      // A file of the first ones that was never written, or one set aside meanwhile.
      if (codeOf(error) === 'ENOENT') return;
      throw error;
    }
    // A line that is just being written is not acknowledged yet.
    if (path.endsWith('.jsonl')) bytes = bytes.subarray(0, openLines(bytes).good);
    if (dirname(path) === jobs) {
      const chain = chainEnd(bytes);
      if (chain === undefined) damaged.push(path);
      else list.chains.push(chain);
    }
    await files.makeFolder(join(to, dirname(path)));
    await writeWhole(files, join(to, path), bytes);
    list.files.push({ path, bytes: bytes.length, sha256: sumOf(bytes) });
  };
  for (const path of first) await copy(path);
  for (const path of FIRST) await copy(join(store, path));
  for (const path of await walk(files, from, jobs)) await copy(path);
  const done = new Set(list.files.map((f) => f.path));
  for (const path of await walk(files, from, '')) {
    if (!done.has(path) && dirname(path) !== jobs) await copy(path);
  }
  await writeWhole(files, join(to, LIST), Buffer.from(`${JSON.stringify(list, null, 1)}\n`));
  await files.syncFolder(dirname(to));
  return {
    jobs: list.chains.length,
    files: list.files.length,
    bytes: list.files.reduce((sum, f) => sum + f.bytes, 0),
    damaged,
  };
}
