// Papers of a bench that one process serves: the passes in a file, the rest in memory only, gone with a restart.
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import type { Paper } from '../../../store/shared-shelf.ts';
import type { Papers } from '../../change-paper.ts';
import { writeWhole } from '../talk/line-file.ts';

/** Papers that outlive a restart, and their files. Codes end with one: they last ten minutes anyway. */
const ON_DISK: Readonly<Record<string, string>> = { passes: 'passes.json' };

const readText = (file: string): Promise<string | undefined> =>
  readFile(file, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw error;
  });

export const folderPapers = (folder: string): Papers => {
  const kept = new Map<string, Paper>();
  let writing: Promise<void> = Promise.resolve();
  const paper: Papers['paper'] = async (name) => {
    const had = kept.get(name);
    const file = ON_DISK[name];
    if (had !== undefined || file === undefined) return had;
    const text = await readText(path.join(folder, file));
    // Another call may have read or written it meanwhile.
    const now = kept.get(name);
    if (now !== undefined || text === undefined) return now;
    const read = { text, rev: 1 };
    kept.set(name, read);
    return read;
  };
  return {
    paper,
    writePaper: async (name, text, rev) => {
      await paper(name);
      // Looked at and set in one go: nobody comes between the two.
      if ((kept.get(name)?.rev ?? 0) !== rev) return false;
      kept.set(name, { text, rev: rev + 1 });
      const file = ON_DISK[name];
      if (file === undefined) return true;
      writing = writing
        .catch(() => undefined)
        .then(() => writeWhole(path.join(folder, file), `${kept.get(name)?.text ?? text}\n`));
      await writing;
      return true;
    },
  };
};
