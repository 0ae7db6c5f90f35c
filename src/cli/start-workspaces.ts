// Several Slack workspaces from one process: a folder of its own for each, and one door that they share.
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { stringify } from 'yaml';
import type { AppSettings } from '../chat/slack/app-settings.ts';
import type { Installation } from '../chat/slack/installations.ts';
import type { SlackLog } from '../chat/slack/slack-log.ts';
import type { ClientOptions } from '../chat/slack/web.ts';
import { type Started, StartTrouble, startWorkshop } from '../main.ts';
import type { PostgresStore } from '../store/postgres/postgres-store.ts';

export type WorkspacesOptions = {
  /** The data folder; each workspace has its own below it. */
  readonly folder: string;
  readonly app: AppSettings;
  readonly clock: () => string;
  readonly log: SlackLog;
  readonly clientOptions?: ClientOptions;
  readonly paceSeconds?: number;
  /** A database that several processes share: the jobs and the installations are in it. */
  readonly database?: string;
};

export type Workspaces = {
  /** Where the door listens on this machine. */
  readonly address: string;
  readonly started: () => ReadonlyMap<string, Started>;
  readonly stop: () => Promise<void>;
};

/** Milliseconds between two looks at what other processes were installed to. */
const LOOK_MS = 2_000;

/** What belongs to no workspace of its own. */
const commonStore = async (url: string, clock: () => string): Promise<PostgresStore> => {
  const { postgresStore } = await import('../store/postgres/postgres-store.ts');
  const store = postgresStore({ url, workshop: 'slack workspaces', clock });
  await store.open();
  return store;
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
  const { installations, sharedCabinet } = await import('../chat/slack/installations.ts');
  const { installPages, sharedStates } = await import('../chat/slack/install-pages.ts');
  const { sharedReceiver } = await import('../chat/slack/shared-receiver.ts');
  const { webClient } = await import('../chat/slack/web.ts');
  const clientOptions: ClientOptions =
    options.clientOptions ?? (app.apiUrl ? { slackApiUrl: app.apiUrl } : {});
  const common = options.database ? await commonStore(options.database, clock) : undefined;
  const shelf = common?.shared.shelf;
  const kept = installations(
    shelf ? sharedCabinet(shelf) : join(options.folder, 'installations'),
    app.keys,
  );
  const running = new Map<string, Started>();
  /** When the installation was made that a workshop was started with, or failed to. */
  const seen = new Map<string, string>();
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
    seen.set(team, installation.at);
    await stopOne(team);
    await writeFirstSettings(installation);
    const started = await startWorkshop({
      folder: folderOf(team),
      port: 0,
      env: options.database
        ? { CHARGEHAND_DATABASE: options.database, CHARGEHAND_WORKSHOP: `slack ${team}` }
        : {},
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
    ...(shelf ? { states: sharedStates(shelf) } : {}),
    web: webClient('', clientOptions, log),
    clock,
    log,
    installed: async (installation) => {
      // Before it is kept: the regular look leaves it to this.
      seen.set(installation.team, installation.at);
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
  const tryOne = async (installation: Installation): Promise<void> => {
    try {
      await startOne(installation);
    } catch (error) {
      // One workshop whose settings or folder are wrong keeps no other from working.
      log('error', 'The workshop of a workspace was not started; the others go on.', {
        team: installation.team,
        why: (error as Error).message,
      });
    }
  };
  for (const installation of all) await tryOne(installation);
  /** Workspaces that another process was installed to, or was taken out of. */
  const look = async (): Promise<void> => {
    const now = await kept.list();
    for (const installation of now)
      if (seen.get(installation.team) !== installation.at) await tryOne(installation);
    const there = new Set(now.map(({ team }) => team));
    for (const team of [...running.keys()])
      if (!there.has(team)) {
        seen.delete(team);
        await stopOne(team);
      }
  };
  let looking: Promise<void> = Promise.resolve();
  let timer: NodeJS.Timeout | undefined;
  const lookAgain = (): void => {
    timer = setTimeout(() => {
      looking = look()
        .catch((error: Error) =>
          log('warn', 'Workspaces of other processes are not to be had; it is tried again.', {
            why: error.message,
          }),
        )
        .then(() => {
          if (timer) lookAgain();
        });
    }, LOOK_MS);
    timer.unref();
  };
  if (common) lookAgain();
  return {
    address: `http://${address.address.includes(':') ? `[${address.address}]` : address.address}:${address.port}`,
    started: () => running,
    stop: async () => {
      clearTimeout(timer);
      timer = undefined;
      await looking;
      for (const team of [...running.keys()]) await stopOne(team);
      await door.stop();
      await common?.close();
    },
  };
};
