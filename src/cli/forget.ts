// `chargehand forget PERSON`: takes one person out of everything that is stored.
import { readFile, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { Settings } from '../../shared/settings.ts';
import { typedWithout } from '../desk/names-out.ts';
import { readSettings } from '../desk/settings-file.ts';
import { markWithout, type WhoGoes } from '../floor/marks-without.ts';
import { filesSetAside } from '../store/read-only.ts';
import { counted } from './backup.ts';
import { forgetOnBench } from './bench-removal.ts';
import type { ChosenStore } from './choose-store.ts';
import { complain } from './complain.ts';
import { readEnvHere } from './env-file.ts';
import { dataFolder, jobsFolder } from './job-folder.ts';
import { onStoppedStore } from './stopped-store.ts';

const USAGE = 'npx chargehand forget "PERSON" [--also NAME]... [--data FOLDER]';

/** Before the rest: what is emptied goes from the disk when the store is written anew. */
const cleanMarks = async (store: ChosenStore, who: WhoGoes): Promise<number> => {
  let count = 0;
  for (const [name, value] of await store.carry.marks()) {
    const left = markWithout(name, value, who);
    if (left === value) continue;
    await store.setMark(name, left);
    count += 1;
  }
  return count;
};

const settingsOf = async (folder: string): Promise<Settings | undefined> => {
  const file = join(folder, 'settings.yaml');
  const text = await readFile(file, 'utf8').catch(() => undefined);
  const read = text === undefined ? undefined : readSettings(text, file);
  return read?.ok ? read.settings : undefined;
};

/** Names neither a message nor a person on purpose, but what a channel or the system said may be in it. */
const cleanLog = async (file: string, names: readonly string[]): Promise<void> => {
  const before = await readFile(file, 'utf8').catch(() => '');
  const after = typedWithout(before, names);
  if (after === before) return;
  await writeFile(`${file}.tmp`, after, { mode: 0o600 });
  await rename(`${file}.tmp`, file);
};

/** Exit 0 done, 1 not done or something is left for a person to do, 2 wrong use. */
export const run = async (args: readonly string[]): Promise<number> => {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { data: { type: 'string' }, also: { type: 'string', multiple: true, default: [] } },
  });
  const [name = ''] = positionals;
  if (name.trim() === '' || positionals.length > 1)
    return complain('Name one person, as the settings do; in quotes, if it has spaces.', USAGE);
  readEnvHere();
  const folder = dataFolder(values.data);
  const settings = await settingsOf(folder);
  const person = settings?.people.find(
    (each) => each.name === name || each.also?.includes(name) === true,
  );
  const names = [
    ...new Set([name, ...(person ? [person.name] : []), ...(person?.also ?? []), ...values.also]),
  ];
  const ids = [person?.slack, person?.teams].filter((id) => id !== undefined);
  const { jobs, lines, marks } = await onStoppedStore(values.data, async (store) => ({
    marks: await cleanMarks(store, { names, ids: [...ids, ...names] }),
    jobs: await store.removePerson(names),
    lines: await forgetOnBench(store, folder, names),
  }));
  await cleanLog(join(folder, 'chargehand.log'), names);
  const what = `Removed ${names.map((each) => `"${each}"`).join(', ')} from ${counted(jobs, 'job')}, ${counted(marks, 'note')} of what waits and ${counted(lines, 'line')} on the bench.`;
  process.stdout.write(
    `${what}\nWho did what stays told apart within a job as "removed person" and a number, and the chain holds: npx chargehand verify.\nBackups, photos, and what stands in a chat workspace are not searched: delete old backups, and let the workspace's owner delete there.\n`,
  );
  const aside = await filesSetAside(jobsFolder(values.data));
  if (aside.length > 0)
    process.stderr.write(
      `${counted(aside.length, 'damaged file')} in ${join(jobsFolder(values.data), 'set-aside')} may still hold the name.\nDelete them once they are not needed any more.\n`,
    );
  if (person)
    process.stderr.write(
      `${join(folder, 'settings.yaml')} still lists ${person.name}.\nTake the person out there, or what they post is recorded with their name again.\n`,
    );
  return person || aside.length > 0 ? 1 : 0;
};
