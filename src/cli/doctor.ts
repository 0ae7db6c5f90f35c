// `chargehand doctor`: says what is missing before the workshop relies on it, line by line, with what to do.
import { open, readdir, readFile, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { Settings } from '../../shared/settings.ts';
import { type AppSettings, slackAppFrom } from '../chat/slack/app-settings.ts';
import type { Finding } from '../chat/slack/checkup.ts';
import { slackTokensFrom } from '../chat/slack/tokens.ts';
import { teamsCredentialsFrom } from '../chat/teams/credentials.ts';
import { readSettings } from '../desk/settings-file.ts';
import { planCheck } from '../job/plan-check.ts';
import { jobFindings } from './doctor-jobs.ts';
import { readEnvHere } from './env-file.ts';
import { dataFolder } from './job-folder.ts';

const SHIPPED_PLANS = join(import.meta.dirname, '..', '..', 'data', 'plans');

const good = (what: string): Finding => ({ good: true, what });
const mend = (what: string, doThis: string): Finding => ({ good: false, what, doThis });
const codeOf = (error: unknown): string =>
  (error as NodeJS.ErrnoException).code ?? (error as Error).message;

/** The folder can be written and synced, which is what every kept message needs. */
const folderFindings = async (folder: string): Promise<Finding> => {
  try {
    if (!(await stat(folder)).isDirectory())
      return mend(`${folder} is no folder.`, 'Name another one with --data.');
  } catch (error) {
    return codeOf(error) === 'ENOENT'
      ? good(`The data folder ${folder} is not there yet; "chargehand start" makes it.`)
      : mend(`The data folder ${folder} cannot be looked at (${codeOf(error)}).`, 'Check who may.');
  }
  const probe = join(folder, `.doctor-${process.pid}`);
  try {
    const file = await open(probe, 'wx');
    await file.writeFile('x');
    await file.sync();
    await file.close();
    return good(`The data folder ${folder} can be written.`);
  } catch (error) {
    return mend(
      `The data folder ${folder} cannot be written (${codeOf(error)}).`,
      'Check who may write there and whether the disk is full, or name another with --data.',
    );
  } finally {
    await rm(probe, { force: true }).catch(() => undefined);
  }
};

const settingsFindings = async (
  folder: string,
): Promise<{ readonly findings: readonly Finding[]; readonly settings: Settings | undefined }> => {
  const file = join(folder, 'settings.yaml');
  let text: string;
  try {
    text = await readFile(file, 'utf8');
  } catch (error) {
    return {
      settings: undefined,
      findings: [
        mend(
          codeOf(error) === 'ENOENT'
            ? `There are no settings at ${file}.`
            : `The settings ${file} cannot be read (${codeOf(error)}).`,
          'Run "chargehand start" once: it puts demonstration settings there to be edited.',
        ),
      ],
    };
  }
  const read = readSettings(text, file);
  return read.ok
    ? { settings: read.settings, findings: [good(`The settings ${file} are good.`)] }
    : {
        settings: undefined,
        findings: read.complaints.map((complaint) => mend(complaint, 'Mend the settings.')),
      };
};

const planFindings = async (folder: string): Promise<readonly Finding[]> => {
  let files: readonly string[];
  try {
    files = (await readdir(folder)).filter((file) => /\.ya?ml$/u.test(file)).sort();
  } catch (error) {
    return [
      mend(
        `The plan folder ${folder} cannot be read (${codeOf(error)}).`,
        'Make it, or take it out of the settings.',
      ),
    ];
  }
  const findings: Finding[] = [];
  let fine = 0;
  for (const file of files) {
    const path = join(folder, file);
    const result = planCheck(await readFile(path, 'utf8'), path);
    const errors = result.complaints.filter((complaint) => complaint.level === 'error').length;
    if (result.good) fine += 1;
    else
      findings.push(
        mend(
          `The plan ${path} has ${errors} ${errors === 1 ? 'complaint' : 'complaints'} and is left out.`,
          `Run "chargehand plan check ${path}".`,
        ),
      );
  }
  return [good(`${fine} of ${files.length} plans in ${folder} are good.`), ...findings];
};

/** Plans in the folders that the settings name. */
const givenPlanFindings = async (settings: Settings | undefined): Promise<readonly Finding[]> => {
  const findings: Finding[] = [];
  for (const folder of settings?.plans ?? []) findings.push(...(await planFindings(folder)));
  return findings;
};

/** Plans that a controller saved from the page, where there are any. */
const ownPlanFindings = async (folder: string): Promise<readonly Finding[]> => {
  const own = join(folder, 'plans');
  const isThere = await stat(own).then(
    () => true,
    (error: unknown) => codeOf(error) !== 'ENOENT',
  );
  return isThere ? planFindings(own) : [];
};

/** Several workspaces: the settings of the app, the key, and each installation with its own settings. */
const workspaceFindings = async (
  folder: string,
  app: AppSettings,
  clock: () => string,
): Promise<readonly Finding[]> => {
  const { installations, InstallationTrouble } = await import('../chat/slack/installations.ts');
  const { slackCheckup } = await import('../chat/slack/checkup.ts');
  const all: Finding[] = [good('The settings for several Slack workspaces are whole.')];
  try {
    // With the current key only: nothing is encrypted anew by a look.
    const kept = await installations(join(folder, 'installations'), {
      current: app.keys.current,
    }).list();
    all.push(
      good(
        `${kept.length === 1 ? '1 workspace has' : `${kept.length} workspaces have`} installed the app; the tokens open.`,
      ),
    );
    if (app.keys.old)
      all.push(
        mend('CHARGEHAND_TOKEN_KEY_OLD is set, but no token needs it any more.', 'Take it out.'),
      );
    for (const { team, name, token } of kept) {
      const own = join(folder, 'workspaces', team);
      const { settings, findings } = await settingsFindings(own);
      const said = await slackCheckup({
        tokens: {
          mode: 'http',
          bot: token,
          port: app.port,
          host: app.host,
          ...(app.apiUrl ? { apiUrl: app.apiUrl } : {}),
        },
        channel: settings?.slack?.channel,
        people: settings?.people ?? [],
        clock,
      });
      const plans = [...(await givenPlanFindings(settings)), ...(await ownPlanFindings(own))];
      for (const finding of [...findings, ...plans, ...said])
        all.push({ ...finding, what: `${name}: ${finding.what}` });
    }
  } catch (error) {
    if (!(error instanceof InstallationTrouble)) throw error;
    all.push(
      app.keys.old
        ? mend(
            'Tokens are still encrypted with CHARGEHAND_TOKEN_KEY_OLD.',
            'Start once with both keys: they are encrypted anew then.',
          )
        : mend(error.what, error.doThis),
    );
  }
  return all;
};

const slackFindings = async (
  folder: string,
  settings: Settings | undefined,
  clock: () => string,
): Promise<readonly Finding[]> => {
  const several = slackAppFrom(process.env);
  if (several.kind === 'half') return [mend(several.what, several.doThis)];
  if (several.kind === 'ready') return workspaceFindings(folder, several.app, clock);
  const found = slackTokensFrom(process.env);
  if (found.kind === 'none')
    return [good('No Slack tokens are set: the bench is the only channel.')];
  if (found.kind === 'half') return [mend(found.what, found.doThis)];
  const { slackCheckup } = await import('../chat/slack/checkup.ts');
  return [
    good(
      `The Slack tokens are a whole set, for ${found.tokens.mode === 'http' ? 'HTTP' : 'Socket Mode'}.`,
    ),
    ...(await slackCheckup({
      tokens: found.tokens,
      channel: settings?.slack?.channel,
      people: settings?.people ?? [],
      clock,
    })),
  ];
};

const teamsFindings = async (settings: Settings | undefined): Promise<readonly Finding[]> => {
  const found = teamsCredentialsFrom(process.env);
  if (found.kind === 'none') return [];
  if (found.kind === 'half') return [mend(found.what, found.doThis)];
  const { teamsCheckup } = await import('../chat/teams/checkup.ts');
  return [
    good('The Teams credentials are a whole set.'),
    ...(await teamsCheckup({
      credentials: found.credentials,
      channel: settings?.teams?.channel,
      peopleWithId: settings?.people.filter((person) => person.teams !== undefined).length ?? 0,
    })),
  ];
};

const envFindings = (): readonly Finding[] => {
  try {
    return readEnvHere() ? [good('The file .env is read.')] : [];
  } catch (error) {
    const [what = '', doThis = ''] = (error as Error).message.split('\n');
    return [mend(what, doThis)];
  }
};

/**
 * `chargehand doctor [--data FOLDER]`. Answers the exit code: 0 nothing to mend, 1 something is.
 * @param clock the time now, ISO 8601
 */
export const run = async (
  args: readonly string[],
  clock: () => string = () => new Date().toISOString(),
): Promise<number> => {
  const { values } = parseArgs({ args: [...args], options: { data: { type: 'string' } } });
  const env = envFindings();
  const folder = dataFolder(values.data);
  const { settings, findings } = await settingsFindings(folder);
  const plans = [
    ...(await planFindings(SHIPPED_PLANS)),
    ...(await givenPlanFindings(settings)),
    ...(await ownPlanFindings(folder)),
  ];
  const all = [
    ...env,
    await folderFindings(folder),
    ...(await jobFindings(join(folder, 'jobs'))),
    ...findings,
    ...plans,
    ...(await slackFindings(folder, settings, clock)),
    ...(await teamsFindings(settings)),
  ];
  const wrong = all.filter((finding) => !finding.good).length;
  const lines = all.map((finding) =>
    finding.good ? `  good  ${finding.what}` : `  MEND  ${finding.what}\n        ${finding.doThis}`,
  );
  lines.push(
    wrong === 0
      ? 'Nothing to mend.'
      : `${wrong} ${wrong === 1 ? 'thing' : 'things'} to mend; run this again afterwards.`,
  );
  process.stdout.write(`${lines.join('\n')}\n`);
  return wrong === 0 ? 0 : 1;
};
