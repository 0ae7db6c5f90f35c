// Backup of a data folder while the store works on it, and restoring one.
//
// The order makes the copy whole although messages go on arriving: the inbox first, so that nothing it calls settled is
// missing from the jobs copied after it; the index before the jobs, so that it names none that was not copied; kept
// files last, since an event that names one is written after it. What the copy holds twice, the first start sorts out:
// it looks at every job.
import { createHash } from 'node:crypto';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { parseText } from './durable-file.ts';
import { diskFiles, type FileSeam } from './file-seam.ts';
import { liftJob } from './job-form.ts';
import { LOOK_MARK, RESTORED } from './open-store.ts';
import { openLines } from './sealed-line.ts';
import { codeOf, diskTrouble, StoreTrouble } from './store-trouble.ts';
import { writeWhole } from './whole-write.ts';

const LIST = 'backup.json';
const FIRST = ['inbox.jsonl', 'index.jsonl', 'marks.json'];

const BackupList = z.strictObject({
  format: z.literal(1),
  madeAt: z.string(),
  files: z.array(z.strictObject({ path: z.string(), bytes: z.number(), sha256: z.string() })),
  /** The end of each job's chain when it was copied, to compare with a record printed then. */
  chains: z.array(z.strictObject({ job: z.string(), events: z.number(), end: z.string() })),
});
export type BackupList = z.infer<typeof BackupList>;

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

type Options = { readonly clock: () => string; readonly files?: FileSeam };

const sumOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** Left out: the lock, half-written files, and the mark that only a restored folder has. */
const isLeftOut = (name: string): boolean =>
  name.startsWith('.') || name.startsWith('lock.json') || name === LOOK_MARK;

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

async function isEmpty(files: FileSeam, folder: string): Promise<boolean> {
  try {
    return (await files.names(folder)).length === 0;
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return true;
    throw error;
  }
}

async function needEmpty(files: FileSeam, folder: string): Promise<void> {
  if (await isEmpty(files, folder)) return;
  throw new StoreTrouble(
    'not-fitting',
    'There is something in this folder already:',
    folder,
    'Name a folder that is empty or does not exist yet; nothing was changed.',
  );
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
  options: Options,
): Promise<BackupReport> {
  const files = options.files ?? diskFiles;
  try {
    if (!(await holdsStore(from, files))) {
      throw new StoreTrouble(
        'missing',
        'There is no data of this program here to back up:',
        from,
        'Name the data folder that the program was started with.',
      );
    }
    await needEmpty(files, to);
    return await copyOut(files, from, to, options.clock());
  } catch (error) {
    throw diskTrouble(error, 'Making the backup', to);
  }
}

async function copyOut(
  files: FileSeam,
  from: string,
  to: string,
  madeAt: string,
): Promise<BackupReport> {
  const list: BackupList = { format: 1, madeAt, files: [], chains: [] };
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
    if (dirname(path) === 'jobs') {
      const chain = chainEnd(bytes);
      if (chain === undefined) damaged.push(path);
      else list.chains.push(chain);
    }
    await files.makeFolder(join(to, dirname(path)));
    await writeWhole(files, join(to, path), bytes);
    list.files.push({ path, bytes: bytes.length, sha256: sumOf(bytes) });
  };
  for (const path of FIRST) await copy(path);
  for (const path of await walk(files, from, 'jobs')) await copy(path);
  const done = new Set(list.files.map((f) => f.path));
  for (const path of await walk(files, from, '')) {
    if (!done.has(path) && dirname(path) !== 'jobs') await copy(path);
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

async function readList(files: FileSeam, backup: string): Promise<BackupList> {
  const path = join(backup, LIST);
  try {
    return BackupList.parse(JSON.parse(Buffer.from(await files.read(path)).toString('utf8')));
  } catch (error) {
    const code = codeOf(error);
    if (code !== undefined && code !== 'ENOENT') throw error;
    throw new StoreTrouble(
      'damaged',
      'This backup has no list that can be read; it was broken off, or is none:',
      path,
      'Take another backup; nothing was changed.',
      error,
    );
  }
}

/** Reads the listed files and compares their hashes. @throws StoreTrouble naming the ones that do not fit. */
export async function checkBackup(
  backup: string,
  files: FileSeam = diskFiles,
): Promise<BackupList> {
  const list = await readList(files, backup);
  const wrong: string[] = [];
  for (const { path, sha256 } of list.files) {
    const outside = path.startsWith('/') || path.split(/[\\/]/).includes('..');
    const bytes = outside ? undefined : await files.read(join(backup, path)).catch(() => undefined);
    if (bytes === undefined || sumOf(bytes) !== sha256) wrong.push(path);
  }
  if (wrong.length === 0) return list;
  throw new StoreTrouble(
    'damaged',
    `${wrong.length} of ${list.files.length} files of this backup are missing or changed (${wrong.slice(0, 5).join(', ')}):`,
    backup,
    'Take another backup; nothing was changed.',
  );
}

/**
 * Restores a backup into an empty or new folder, whole or not at all. Posts that waited when it was made count as
 * unclear, so that the channel looks for them before it posts them again.
 * @throws StoreTrouble where the backup is damaged, the place is taken, or the disk refuses.
 */
export async function restoreStore(
  backup: string,
  to: string,
  options: Options,
): Promise<BackupReport> {
  const files = options.files ?? diskFiles;
  try {
    const list = await checkBackup(backup, files);
    await needEmpty(files, to);
    const beside = `${to}.restoring-${options.clock().replace(/[^0-9A-Za-z]+/g, '-')}`;
    await needEmpty(files, beside);
    await files.makeFolder(beside);
    await writeWhole(files, join(beside, LOOK_MARK), Buffer.from(RESTORED));
    for (const { path } of list.files) {
      await files.makeFolder(join(beside, dirname(path)));
      await writeWhole(files, join(beside, path), await files.read(join(backup, path)));
    }
    // An empty folder gives way to one that is renamed to its name.
    await files.rename(beside, to);
    await files.syncFolder(dirname(to));
    return {
      jobs: list.chains.length,
      files: list.files.length,
      bytes: list.files.reduce((sum, f) => sum + f.bytes, 0),
      damaged: [],
    };
  } catch (error) {
    throw diskTrouble(error, 'Restoring the backup', to);
  }
}
