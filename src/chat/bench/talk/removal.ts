// What a retention rule or a person's request takes out of the bench's own conversation. The functions that go through a
// folder are for while the bench is not running, since its files are replaced as a whole; a running one changes its own.
import { readdir, readFile } from 'node:fs/promises';
import path from 'node:path';
import { typedWithout, withoutNames } from '../../../desk/names-out.ts';
import { writeWhole } from './line-file.ts';

const REMOVED = '(removed)';
const REMOVED_CARD = { text: REMOVED, blocks: [{ kind: 'text', text: REMOVED }] };

type AnyLine = Readonly<Record<string, unknown>>;
/** The line as it shall stand; the same object where it stays as it is. */
export type Change = (line: AnyLine) => AnyLine;

const isLine = (value: unknown): value is AnyLine => typeof value === 'object' && value !== null;

/** The same for a line as it stands in its file; one that is damaged stays. */
export const changedText =
  (change: Change) =>
  (text: string): string => {
    let line: unknown;
    try {
      line = JSON.parse(text);
    } catch {
      return text;
    }
    if (!isLine(line)) return text;
    const next = change(line);
    return next === line ? text : JSON.stringify(next);
  };

async function rewriteLines(file: string, change: Change): Promise<number> {
  const before = await readFile(file, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return '';
    throw error;
  });
  let changed = 0;
  const after = before
    .split('\n')
    .map((text) => {
      const next = changedText(change)(text);
      if (next !== text) changed += 1;
      return next;
    })
    .join('\n');
  if (changed === 0) return 0;
  await writeWhole(file, after);
  return changed;
}

/** Takes the words out of a line from before a time, unless it is about the root of a thread that is left alone. */
export const wordlessBefore = (before: string, kept: ReadonlySet<string>): Change => {
  const limit = Date.parse(before);
  return (line) => {
    const isOld = typeof line.at === 'string' && Date.parse(line.at) < limit;
    if (!isOld || (typeof line.id === 'string' && kept.has(line.id))) return line;
    if (typeof line.text === 'string' && line.text !== REMOVED) {
      return { ...line, text: REMOVED };
    }
    const card = line.card as { readonly text?: unknown } | undefined;
    return card !== undefined && card.text !== REMOVED ? { ...line, card: REMOVED_CARD } : line;
  };
};

/** Takes names out of a line, from what was typed too. */
export const namelessOf =
  (names: readonly string[]): Change =>
  (line) => {
    const next = withoutNames(line, names);
    if (typeof next.text !== 'string') return next;
    const text = typedWithout(next.text, names);
    return text === next.text ? next : { ...next, text };
  };

/** Threads by the id of their root. */
async function threadsIn(folder: string): Promise<readonly string[]> {
  const names = await readdir(path.join(folder, 'threads')).catch(
    (error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT') return [];
      throw error;
    },
  );
  return names.filter((name) => name.endsWith('.jsonl')).map((name) => name.slice(0, -6));
}

const threadFile = (folder: string, root: string): string =>
  path.join(folder, 'threads', `${root}.jsonl`);

/**
 * Takes the words out of what was said and posted before a time; who spoke when stays.
 * @param before ISO
 * @param kept roots of the threads that are left alone, those of jobs that are not over for long enough
 * @returns the number of lines changed
 */
export async function removeOldTalk(
  folder: string,
  before: string,
  kept: ReadonlySet<string>,
): Promise<number> {
  const wordless = wordlessBefore(before, kept);
  let changed = await rewriteLines(path.join(folder, 'yard.jsonl'), wordless);
  for (const root of await threadsIn(folder)) {
    if (!kept.has(root)) changed += await rewriteLines(threadFile(folder, root), wordless);
  }
  return changed;
}

/**
 * Takes a person's names out of everything said and posted.
 * @returns the number of lines changed
 */
export async function removePersonFromTalk(
  folder: string,
  names: readonly string[],
): Promise<number> {
  const nameless = namelessOf(names);
  let changed = 0;
  for (const file of ['yard.jsonl', 'arrivals.jsonl']) {
    changed += await rewriteLines(path.join(folder, file), nameless);
  }
  for (const root of await threadsIn(folder)) {
    changed += await rewriteLines(threadFile(folder, root), nameless);
  }
  return changed;
}
