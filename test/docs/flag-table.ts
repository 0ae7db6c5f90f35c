// The README's table of flags, from the manual entry at the head of each check's file.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { RULES } from '../../shared/flag.ts';
import { ROOT } from '../layout/sources.ts';

const HEADS = ['Means', 'Why it matters', 'What to do', 'When it may be left'] as const;
type Entry = Readonly<Record<(typeof HEADS)[number], string>>;

/** The manual entry of one check: four headed comments at the head of its file. */
export const manualEntry = (text: string): Entry => {
  const entry: Record<string, string> = {};
  let head: string | undefined;
  for (const row of text.split('\n')) {
    if (!row.startsWith('//')) break;
    const bare = row.slice(2).trim();
    const started = HEADS.find((each) => bare.startsWith(`${each}:`));
    if (started) {
      head = started;
      entry[head] = bare.slice(started.length + 1).trim();
    } else if (head !== undefined) entry[head] = `${entry[head]} ${bare}`.trim();
  }
  for (const each of HEADS)
    if (!entry[each]) throw new Error(`A check's manual entry lacks "${each}:".`);
  return entry as Entry;
};

export const checkFiles = (): ReadonlyMap<string, string> => {
  const folder = join(ROOT, 'src/job/checks');
  const files = readdirSync(folder).filter((name) => RULES.some((rule) => name === `${rule}.ts`));
  return new Map(
    files.map((name) => [name.replace(/\.ts$/u, ''), readFileSync(join(folder, name), 'utf8')]),
  );
};

export const flagTable = (): string => {
  const files = checkFiles();
  const rows = RULES.map((rule) => {
    const text = files.get(rule);
    if (text === undefined) throw new Error(`The rule ${rule} has no file in src/job/checks.`);
    const entry = manualEntry(text);
    return `| \`${rule}\` | ${HEADS.map((head) => entry[head].replaceAll('|', '\\|')).join(' | ')} |`;
  });
  return [
    `| flag | ${HEADS.map((head) => head.toLowerCase()).join(' | ')} |`,
    `| --- | ${HEADS.map(() => '---').join(' | ')} |`,
    ...rows,
  ].join('\n');
};
