// A damaged file is moved out of the way with the reason beside it; nothing is thrown away.
import { basename, join } from 'node:path';
import type { FileSeam } from './file-seam.ts';
import type { SetAside } from './job-store.ts';
import { diskTrouble } from './store-trouble.ts';
import { writeWhole } from './whole-write.ts';

const stampOf = (now: string): string => now.replace(/[^0-9A-Za-z]+/g, '-');

async function freeName(files: FileSeam, folder: string, wanted: string): Promise<string> {
  await files.makeFolder(folder);
  const taken = new Set(await files.names(folder));
  for (let n = 1; ; n++) {
    const name = n === 1 ? wanted : `${wanted}-${n}`;
    if (!taken.has(name)) return join(folder, name);
  }
}

const reason = (file: string, why: string, now: string): Uint8Array =>
  Buffer.from(`${file}\n${why}\nSet aside at ${now}. Nothing in it was changed.\n`);

/**
 * Moves a file to `set-aside/` of the data folder.
 * @throws StoreTrouble where the disk refuses; the file then stays where it is.
 */
export async function setAside(
  files: FileSeam,
  folder: string,
  path: string,
  why: string,
  now: string,
): Promise<SetAside> {
  const to = join(folder, 'set-aside');
  try {
    const movedTo = await freeName(files, to, `${stampOf(now)}-${basename(path)}`);
    await writeWhole(files, `${movedTo}.why.txt`, reason(path, why, now));
    await files.rename(path, movedTo);
    await files.syncFolder(to);
    return { file: path, movedTo, why };
  } catch (error) {
    throw diskTrouble(error, 'Setting aside a damaged file', path);
  }
}

/** Keeps lines that could not be believed; the file they stood in goes on without them. */
export async function setLinesAside(
  files: FileSeam,
  folder: string,
  path: string,
  lines: readonly { readonly line: number; readonly text: string }[],
  now: string,
): Promise<SetAside> {
  const to = join(folder, 'set-aside');
  const numbers = lines.map((l) => l.line).join(', ');
  const why = `Damaged: line ${numbers}. The other lines were kept.`;
  try {
    const movedTo = await freeName(files, to, `${stampOf(now)}-lines-of-${basename(path)}`);
    await writeWhole(files, movedTo, Buffer.from(lines.map((l) => `${l.text}\n`).join('')));
    await writeWhole(files, `${movedTo}.why.txt`, reason(path, why, now));
    return { file: path, movedTo, why };
  } catch (error) {
    throw diskTrouble(error, 'Setting aside damaged lines', path);
  }
}
