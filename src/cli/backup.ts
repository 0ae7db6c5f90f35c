// `chargehand backup TO`: a copy of the data folder, also while the workshop is running.
import { resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { backupWorkshop } from '../store/workshop-backup.ts';
import { databaseFrom } from './choose-store.ts';
import { complain } from './complain.ts';
import { readEnvHere } from './env-file.ts';
import { dataFolder } from './job-folder.ts';

const USAGE = 'npx chargehand backup FOLDER|FILE.tar.gz [--data FOLDER]';

export const counted = (count: number, thing: string): string =>
  `${count} ${thing}${count === 1 ? '' : 's'}`;

/** Exit 0 made, 1 not made or a job in it is damaged, 2 wrong use. */
export const run = async (args: readonly string[]): Promise<number> => {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { data: { type: 'string' } },
  });
  const [to] = positionals;
  if (to === undefined || positionals.length > 1)
    return complain('Say where the backup goes: one folder, or one file.', USAGE);
  readEnvHere();
  if (databaseFrom(process.env) !== undefined)
    return complain(
      'CHARGEHAND_DATABASE is set: the jobs are in the database, not in the data folder.',
      'Back the database up with pg_dump, and copy settings.yaml beside it; the program may be running.',
      1,
    );
  const path = resolve(to);
  const report = await backupWorkshop(dataFolder(values.data), path, () =>
    new Date().toISOString(),
  );
  process.stdout.write(
    `Backed up ${counted(report.jobs, 'job')} in ${counted(report.files, 'file')}, ${(report.bytes / 1e6).toFixed(1)} MB: ${path}\nTry it: npx chargehand restore ${path} --data A-NEW-FOLDER, then npx chargehand verify --data A-NEW-FOLDER.\n`,
  );
  if (report.damaged.length === 0) return 0;
  return complain(
    `${report.damaged.join(', ')}: damaged already, and copied as found.`,
    'Put these back from an earlier backup; "npx chargehand verify" says what is wrong with them.',
    1,
  );
};
