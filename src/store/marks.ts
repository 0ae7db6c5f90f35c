// Small marks that survive a restart, one a line, the newest of a name last; written anew when most are outdated.
import { z } from 'zod';
import type { FileSeam } from './file-seam.ts';
import { openJournal, readJournal } from './journal.ts';
import type { OpenedLines } from './sealed-line.ts';
import { StoreTrouble } from './store-trouble.ts';

const Line = z.discriminatedUnion('k', [
  z.strictObject({ k: z.literal('format'), format: z.literal(1) }),
  z.strictObject({ k: z.literal('mark'), name: z.string(), value: z.string() }),
]);
type Line = z.infer<typeof Line>;

/** The file may hold this many outdated lines beside as many as there are marks. */
const OUTDATED = 1_000;

export type MarksFile = {
  readonly get: (name: string) => string | undefined;
  readonly all: () => readonly (readonly [name: string, value: string])[];
  readonly set: (name: string, value: string) => Promise<void>;
  /** Writes the file anew, without what is outdated and without marks that are empty. */
  readonly rewrite: () => Promise<void>;
  readonly close: () => Promise<void>;
};

/**
 * Opens the file of marks, or begins one.
 * @param damaged called with the damaged lines before the file is written anew without them.
 * @throws StoreTrouble where the disk refuses or a newer version wrote it.
 */
export async function openMarks(
  files: FileSeam,
  path: string,
  onTrouble: (trouble: StoreTrouble) => void,
  damaged: (lines: OpenedLines['damaged']) => Promise<void>,
): Promise<MarksFile> {
  const read = await readJournal(files, path);
  const lines = read === 'absent' ? undefined : read;
  const marks = new Map<string, string>();
  for (const value of lines?.values ?? []) {
    const parsed = Line.safeParse(value);
    if (!parsed.success) {
      throw new StoreTrouble(
        'newer-format',
        'This file holds lines that this version does not know:',
        path,
        'It was written by a newer version of the program; start that one.',
      );
    }
    if (parsed.data.k === 'mark') marks.set(parsed.data.name, parsed.data.value);
  }
  function* snapshot(): Generator<Line> {
    yield { k: 'format', format: 1 };
    for (const [name, value] of marks) if (value !== '') yield { k: 'mark', name, value };
  }
  const whole = lines !== undefined && lines.damaged.length === 0;
  if (lines !== undefined && !whole) await damaged(lines.damaged);
  const journal = openJournal(
    files,
    path,
    snapshot,
    whole ? { length: lines.good, lines: lines.values.length } : undefined,
  );
  await journal.sync();
  let rewriting = false;
  return {
    get: (name) => marks.get(name),
    all: () => [...marks],
    set: async (name, value) => {
      await journal.add({ k: 'mark', name, value } satisfies Line);
      marks.set(name, value);
      if (rewriting || journal.lines() < 2 * marks.size + OUTDATED) return;
      rewriting = true;
      journal
        .rewrite()
        .catch((error: unknown) => {
          if (error instanceof StoreTrouble) onTrouble(error);
        })
        .finally(() => {
          rewriting = false;
        });
    },
    rewrite: () => journal.rewrite(),
    close: journal.close,
  };
}
