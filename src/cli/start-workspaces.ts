// Several Slack workspaces from one process: a folder of its own for each, and one door that they share.
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { stringify } from 'yaml';
import type { AppSettings } from '../chat/slack/app-settings.ts';
import type { Installation } from '../chat/slack/installations.ts';
import type { SlackLog } from '../chat/slack/slack-log.ts';
import type { ClientOptions } from '../chat/slack/web.ts';
import { type Started, StartTrouble, startWorkshop } from '../main.ts';

export type WorkspacesOptions = {
  /** The data folder; each workspace has its own below it. */
  readonly folder: string;
  readonly app: AppSettings;
  readonly clock: () => string;
  readonly log: SlackLog;
  readonly clientOptions?: ClientOptions;
  readonly paceSeconds?: number;
};

export type Workspaces = {
  /** Where the door listens on this machine. */
  readonly address: string;
  readonly started: () => ReadonlyMap<string, Started>;
  readonly stop: () => Promise<void>;
};

/** Settings of a workspace that has none yet: whoever installed the app is its controller. */
const firstSettings = (name: string, person: { name: string; id: string; zone: string }): string =>
  `# The workshop of one Slack workspace. Add the channel, the shifts and the plans; people are added by a tap.
${stringify({
  workshop: name.slice(0, 80),
  zone: person.zone,
  people: [{ name: person.name, roles: ['controller'], slack: person.id }],
})}`;

export const startWorkspaces = async (options: WorkspacesOptions): Promise<Workspaces> => {
  const { app, clock, log } = options;
  const { installations } = await import('../chat/slack/installations.ts');
  const { installPages } = await import('../chat/slack/install-pages.ts');
  const { sharedReceiver } = await import('../chat/slack/shared-receiver.ts');
  const { webClient } = await import('../chat/slack/web.ts');
  const clientOptions: ClientOptions =
    options.clientOptions ?? (app.apiUrl ? { slackApiUrl: app.apiUrl } : {});
  const kept = installations(join(options.folder, 'installations'), app.keys);
  const running = new Map<string, Started>();
  const folderOf = (team: string): string => join(options.folder, 'workspaces', team);

  const writeFirstSettings = async ({ team, name, by, token }: Installation): Promise<void> => {
    const file = join(folderOf(team), 'settings.yaml');
    if (
      await readFile(file).then(
        () => true,
        () => false,
      )
    )
      return;
    const user = await webClient(token, clientOptions, log)
      .users.info({ user: by })
      .then(
        (answer) => answer.user,
        () => undefined,
      );
    await mkdir(folderOf(team), { recursive: true });
    await writeFile(
      file,
      firstSettings(name, {
        name: (user?.profile?.display_name || user?.real_name || 'Controller').slice(0, 60),
        id: by,
        zone: user?.tz ?? 'Etc/UTC',
      }),
      { flag: 'wx' },
    );
  };

  const stopOne = async (team: string): Promise<void> => {
    const started = running.get(team);
    running.delete(team);
    await started?.stop();
  };

  const startOne = async (installation: Installation): Promise<void> => {
    const { team, token } = installation;
    await stopOne(team);
    await writeFirstSettings(installation);
    const started = await startWorkshop({
      folder: folderOf(team),
      port: 0,
      env: {},
      clock,
      workspace: {
        tokens: { mode: 'http', bot: token, port: app.port, host: app.host },
        receiver: door,
        clientOptions,
        ...(options.paceSeconds === undefined ? {} : { paceSeconds: options.paceSeconds }),
        onGone: () => {
          // Its jobs stay where they are, for whoever installs the app again.
          void kept
            .remove(team)
            .then(() => stopOne(team))
            .catch((error: Error) =>
              log('error', 'A workspace could not be left.', { team, why: error.message }),
            );
        },
      },
    });
    running.set(team, started);
    for (const line of started.says) log('warn', line, { team });
  };

  const pages = installPages({
    clientId: app.clientId,
    clientSecret: app.clientSecret,
    publicUrl: app.publicUrl,
    ...(app.teams ? { teams: app.teams } : {}),
    web: webClient('', clientOptions, log),
    clock,
    log,
    installed: async (installation) => {
      await kept.save(installation);
      await startOne(installation);
    },
  });
  const door = sharedReceiver({
    signingSecret: app.signingSecret,
    port: app.port,
    host: app.host,
    clock,
    log,
    pages,
  });

  // A wrong key is said before anything listens.
  const all = await kept.list();
  let address: Awaited<ReturnType<typeof door.start>>;
  try {
    address = await door.start();
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EADDRINUSE') throw error;
    throw new StartTrouble(
      `Port ${app.port} for Slack is in use by another program.`,
      'Stop that program, or set SLACK_PORT to another one.',
    );
  }
  for (const installation of all) {
    try {
      await startOne(installation);
    } catch (error) {
      // One workshop whose settings or folder are wrong keeps no other from working.
      log('error', 'The workshop of a workspace was not started; the others go on.', {
        team: installation.team,
        why: (error as Error).message,
      });
    }
  }
  return {
    address: `http://${address.address.includes(':') ? `[${address.address}]` : address.address}:${address.port}`,
    started: () => running,
    stop: async () => {
      for (const team of [...running.keys()]) await stopOne(team);
      await door.stop();
    },
  };
};
