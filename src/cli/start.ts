// `chargehand start`: the bench channel on this machine, and Slack where its tokens are set.
import { parseArgs } from 'node:util';
import { type AppSettings, slackAppFrom } from '../chat/slack/app-settings.ts';
import { logIn, type Started, StartTrouble, startWorkshop } from '../main.ts';
import { databaseFrom } from './choose-store.ts';
import { complain } from './complain.ts';
import { readEnvHere } from './env-file.ts';
import { dataFolder } from './job-folder.ts';
import { loadDemoInto } from './load-demo.ts';
import { networkFrom } from './network.ts';
import { startWorkspaces } from './start-workspaces.ts';

const DEFAULT_PORT = 7117;

/** The first controller comes in with a code from this machine, and lets the others in. */
const openedToNetwork = async ({ workshop, letIn }: Started): Promise<string> => {
  const controller = workshop.settings.people.find(({ roles }) => roles.includes('controller'));
  const made = controller && (await letIn?.(controller.name));
  return made
    ? `${controller.name} comes in with the code ${made.code} within ten minutes, and lets the others in under "Who comes in". Each start gives a new code.`
    : 'Name a controller in the settings, so that somebody can let people in.';
};

/** Serves the workspaces that installed the app, and those that will, until it is told to stop. */
const runWorkspaces = async (folder: string, app: AppSettings): Promise<number> => {
  const logger = await logIn(folder, process.env);
  const database = databaseFrom(process.env);
  const workspaces = await startWorkspaces({
    folder,
    ...(database === undefined ? {} : { database }),
    app,
    clock: () => new Date().toISOString(),
    log: (level, what, more) => logger[level](more ?? {}, what),
  });
  process.stdout.write(
    `${workspaces.started().size} Slack workspaces, at ${workspaces.address}. Another one joins at ${app.publicUrl.replace(/\/$/u, '')}/slack/install. Stop with Ctrl-C. Data folder: ${folder}\n`,
  );
  await new Promise<void>((done) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => done());
  });
  await workspaces.stop();
  return 0;
};

export const run = async (args: readonly string[]): Promise<number> => {
  const { values } = parseArgs({
    args: [...args],
    options: {
      port: { type: 'string' },
      'health-port': { type: 'string' },
      data: { type: 'string' },
      terminal: { type: 'boolean' },
      network: { type: 'boolean' },
      cert: { type: 'string' },
      key: { type: 'string' },
      'behind-proxy': { type: 'boolean' },
      host: { type: 'string' },
      name: { type: 'string', multiple: true },
    },
  });
  readEnvHere();
  const port =
    values.port === undefined
      ? Number(process.env.CHARGEHAND_PORT ?? DEFAULT_PORT)
      : Number(values.port);
  if (!Number.isInteger(port) || port < 0 || port > 65535)
    return complain(
      'The port is no number from 0 to 65535.',
      'Leave --port out, or give one such as --port 7117.',
    );
  const healthWords = values['health-port'] ?? process.env.CHARGEHAND_HEALTH_PORT;
  const healthPort = healthWords === undefined ? undefined : Number(healthWords);
  if (
    healthPort !== undefined &&
    !(Number.isInteger(healthPort) && healthPort >= 0 && healthPort <= 65535)
  )
    return complain(
      'The port for the health is no number from 0 to 65535.',
      'Leave --health-port out, or give one such as --health-port 7118.',
    );
  const network = await networkFrom(values, new Date().toISOString());
  if (network.kind === 'wrong') return complain(network.what, network.doThis);
  const folder = dataFolder(values.data);
  const several = slackAppFrom(process.env);
  if (several.kind === 'half') throw new StartTrouble(several.what, several.doThis);
  if (several.kind === 'ready') return runWorkspaces(folder, several.app);
  const started = await startWorkshop({
    folder,
    port,
    env: process.env,
    loadDemo: loadDemoInto,
    ...(healthPort === undefined ? {} : { healthPort }),
    ...(values.terminal ? { terminal: true } : {}),
    ...(network.kind === 'found' ? { host: network.host, network: network.network } : {}),
  });
  for (const line of started.says) process.stderr.write(`${line}\n`);
  if (started.address)
    process.stdout.write(
      `${started.workshop.settings.workshop}: ${started.address}\n${network.kind === 'found' ? await openedToNetwork(started) : 'Open it in a browser on this machine.'} Stop with Ctrl-C. Data folder: ${folder}\n`,
    );
  if (started.healthAddress)
    process.stdout.write(
      `Health and counters: ${started.healthAddress}health and ${started.healthAddress}metrics\n`,
    );
  await new Promise<void>((done) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => done());
    if (values.terminal) process.stdin.once('end', () => done());
  });
  await started.stop();
  return 0;
};
