// Teams behind the channel contract: takes what people do there, posts what the desk says, decides nothing about jobs.
import { App, type AppOptions, type IPlugin } from '@microsoft/teams.apps';
import type { SharedShelf } from '../../store/shared-shelf.ts';
import type { Channel, Intake } from '../channel.ts';
import { Activity } from './activity-form.ts';
import { addressBook, type Marks } from './address-book.ts';
import { answerInvoke } from './answer-invoke.ts';
import type { TeamsCredentials } from './credentials.ts';
import { fetchFile } from './fetch-file.ts';
import { HttpDoor } from './http-door.ts';
import { outgoing } from './outgoing.ts';
import { pictureShelf, sharedPictures } from './picture-shelf.ts';
import { spotOf } from './place-id.ts';
import { TeamsTrouble } from './teams-trouble.ts';
import { deliveriesOf, personOf, type Surroundings, tenantOf } from './translate-activity.ts';

export type TeamsParts = {
  readonly credentials: TeamsCredentials;
  /** The time now, ISO 8601 with offset. */
  readonly clock: () => string;
  readonly store: Marks;
  /** Pictures that people's Teams fetches lie here. */
  readonly folder: string;
  /** Where several processes share the store, pictures lie here and not in the folder. */
  readonly shelf?: SharedShelf;
  readonly settings: {
    readonly zone: string;
    readonly people: readonly { readonly name: string; readonly teams?: string | undefined }[];
  };
  readonly log: (level: 'info' | 'warn' | 'error', what: string, more?: object) => void;
  /**
   * Addresses of the cloud the organisation is in: where tokens come from and whose keys prove a request. The
   * commercial cloud's when left out. There is no switch that leaves the proof out.
   */
  readonly cloud?: NonNullable<AppOptions<IPlugin>['cloud']>;
  /** Where conversations are reached that nobody has written in yet; the commercial cloud's when left out. */
  readonly serviceUrl?: string;
  /** Gets the bot's tokens; from the cloud's sign-in service with the client secret when left out. */
  readonly token?: NonNullable<AppOptions<IPlugin>['token']>;
};

export type TeamsChannel = Channel & {
  /** Where the endpoint listens, such as http://127.0.0.1:3978; undefined before the start. */
  readonly address: () => string | undefined;
};

export const SERVICE_URL = 'https://smba.trafficmanager.net/teams';
/** Milliseconds for one call. */
const TIME_LIMIT = 10_000;

/** Takes nothing from the environment by itself, and logs nothing that could hold a token. */
const quietLogger = (log: TeamsParts['log']) => {
  const logger = {
    error: (...said: unknown[]) =>
      log('warn', 'The Teams package reports a problem.', { why: String(said[0]).slice(0, 200) }),
    warn: () => undefined,
    info: () => undefined,
    debug: () => undefined,
    log: () => undefined,
    trace: () => undefined,
    child: () => logger,
  };
  return logger;
};

/** Only what speaks TLS, or this machine, is told anything; that the address is the service's own, the signed proof says. */
const mayBeReached = (address: string): boolean => {
  if (!URL.canParse(address)) return false;
  const { protocol, hostname } = new URL(address);
  return protocol === 'https:' || hostname === '127.0.0.1' || hostname === 'localhost';
};

export const teamsChannel = (parts: TeamsParts): TeamsChannel => {
  const { credentials, clock, settings, log } = parts;
  const names = new Map(
    settings.people.flatMap((each) => (each.teams ? [[each.teams, each.name]] : [])),
  );
  const ids = new Map(
    settings.people.flatMap((each) => (each.teams ? [[each.name, each.teams]] : [])),
  );
  const book = addressBook(parts.store, parts.shelf !== undefined);
  const shelf = parts.shelf ? sharedPictures(parts.shelf) : pictureShelf(parts.folder);
  const door = new HttpDoor({ port: credentials.port, host: credentials.host, shelf, log });
  const services = new Set<string>();
  const app = new App({
    clientId: credentials.clientId,
    clientSecret: credentials.clientSecret,
    tenantId: credentials.tenantId,
    ...(parts.token ? { token: parts.token, clientSecret: '' } : {}),
    ...(parts.cloud ? { cloud: parts.cloud } : {}),
    serviceUrl: parts.serviceUrl ?? SERVICE_URL,
    client: { timeout: TIME_LIMIT },
    httpServerAdapter: door,
    // Said outright: else the package would ask the environment.
    dangerouslyAllowUnauthenticatedRequests: false,
    // biome-ignore lint/suspicious/noExplicitAny: the package's logger has more levels than its users need.
    logger: quietLogger(log) as any,
  });
  let joined: Intake | undefined;
  const out = outgoing({
    service: app.api.http,
    directory: app.graph.http,
    book,
    shelf,
    publicUrl: credentials.publicUrl,
    fileOf: async (file) => joined?.fileOf?.(file),
    serviceUrl: parts.serviceUrl ?? SERVICE_URL,
    clientId: credentials.clientId,
    tenantId: credentials.tenantId,
    idOf: (name) => ids.get(name),
    clock,
  });
  let listensAt: string | undefined;

  const around = (): Surroundings => ({
    nameOf: (id) => names.get(id),
    now: clock(),
    zone: settings.zone,
  });

  const noted = async (activity: Activity): Promise<void> => {
    if (!mayBeReached(activity.serviceUrl)) return;
    services.add(new URL(activity.serviceUrl).origin);
    const { place } = spotOf(activity.conversation.id);
    const group = activity.channelData?.team?.aadGroupId;
    await book.note(place, {
      serviceUrl: activity.serviceUrl,
      ...(group ? { group } : {}),
    });
    if (activity.conversation.conversationType === 'personal')
      await book.noteDirect(personOf(activity), place);
  };

  /** Ends only when what was said is kept; the service is answered after that. */
  const take = async (intake: Intake, body: unknown) => {
    const read = Activity.safeParse(body);
    if (!read.success) {
      const where = read.error.issues[0]?.path.join('.') ?? '';
      log('warn', 'An activity from Teams was not understood and is refused.', { where });
      return {
        status: 400,
        body: { error: `The activity has not the form it should at ${where}.` },
      };
    }
    const activity = read.data;
    // The token proves the service, not the organisation: another one's people are not let in.
    if (tenantOf(activity) !== credentials.tenantId) {
      log('warn', 'An activity of another organisation was refused.');
      return { status: 403, body: { error: 'This bot belongs to another organisation.' } };
    }
    await noted(activity);
    if (activity.type === 'invoke') return answerInvoke(activity, { intake, around: around() });
    for (const delivery of deliveriesOf(activity, around())) await intake.accept(delivery);
    return { status: 200 };
  };

  return {
    name: 'teams',
    showsRecorded: 'job sheet',
    address: () => listensAt,
    start: async (intake) => {
      joined = intake;
      // Requests reach this only once their token is proved.
      app.server.onRequest = ({ body }) => take(intake, body);
      await app.initialize();
      await shelf.clear(Date.parse(clock()));
      try {
        const { address, port } = await door.listen();
        listensAt = `http://${address.includes(':') ? `[${address}]` : address}:${port}`;
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code !== 'EADDRINUSE') throw error;
        throw new TeamsTrouble(
          `Port ${credentials.port} for Teams is in use by another program.`,
          'Stop that program, or set TEAMS_PORT to another one.',
        );
      }
    },
    stop: () => door.close(),
    ...out,
    fetch: (from, limit) =>
      fetchFile(from, limit, {
        fetch: globalThis.fetch,
        services,
        token: async () => {
          const token = app.api.http.token;
          const made = typeof token === 'function' ? await token({}) : token;
          return made ? String(made) : undefined;
        },
      }),
  };
};
