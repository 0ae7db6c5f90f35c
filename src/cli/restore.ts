// `chargehand restore FROM`: a data folder from a backup, whole or not at all.
import { resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { restoreWorkshop } from '../store/workshop-backup.ts';
import { counted } from './backup.ts';
import { databaseFrom } from './choose-store.ts';
import { complain } from './complain.ts';
import { readEnvHere } from './env-file.ts';
import { dataFolder } from './job-folder.ts';

const USAGE = 'npx chargehand restore FOLDER|FILE.tar.gz --data A-NEW-FOLDER';

/** Exit 0 restored, 1 not restored and nothing changed, 2 wrong use. */
export const run = async (args: readonly string[]): Promise<number> => {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { data: { type: 'string' } },
  });
  const [from] = positionals;
  if (from === undefined || positionals.length > 1)
    return complain('Say which backup: one folder, or one file.', USAGE);
  readEnvHere();
  if (databaseFrom(process.env) !== undefined)
    return complain(
      'CHARGEHAND_DATABASE is set: the jobs are in the database, and a restored data folder would not be looked at.',
      'Put a backup of pg_dump back with pg_restore or psql; or take CHARGEHAND_DATABASE out to restore a folder.',
      1,
    );
  const folder = dataFolder(values.data);
  const report = await restoreWorkshop(resolve(from), folder, () => new Date().toISOString());
  process.stdout.write(
    `Restored ${counted(report.jobs, 'job')} in ${counted(report.files, 'file')} to ${folder}\nPosts that were waiting are looked for in the channel before they are posted again. See "npx chargehand verify --data ${folder}".\n`,
  );
  return 0;
};
