// What `chargehand doctor` says of Teams: whether the credentials are taken, and what else the bot needs.
import { App, type AppOptions, type IPlugin } from '@microsoft/teams.apps';
import type { TeamsCredentials } from './credentials.ts';

export type Finding =
  | { readonly good: true; readonly what: string }
  | { readonly good: false; readonly what: string; readonly doThis: string };

export type CheckupParts = {
  readonly credentials: TeamsCredentials;
  readonly channel: string | undefined;
  readonly peopleWithId: number;
  readonly cloud?: NonNullable<AppOptions<IPlugin>['cloud']>;
  /** Gets a token; from the cloud's sign-in service when left out. */
  readonly token?: () => Promise<string | undefined>;
};

const good = (what: string): Finding => ({ good: true, what });
const mend = (what: string, doThis: string): Finding => ({ good: false, what, doThis });

const silent = {
  error: () => undefined,
  warn: () => undefined,
  info: () => undefined,
  debug: () => undefined,
  log: () => undefined,
  trace: () => undefined,
  child: () => silent,
};

const askToken = async ({ credentials, cloud }: CheckupParts): Promise<string | undefined> => {
  const app = new App({
    clientId: credentials.clientId,
    clientSecret: credentials.clientSecret,
    tenantId: credentials.tenantId,
    dangerouslyAllowUnauthenticatedRequests: false,
    ...(cloud ? { cloud } : {}),
    logger: silent as never,
  });
  const { token } = app.api.http;
  const made = typeof token === 'function' ? await token({}) : token;
  return made ? String(made) : undefined;
};

/** The first sentence of what the sign-in service says, without what could be a secret. */
const reason = (error: unknown): string =>
  (error instanceof Error ? error.message : String(error))
    .split('\n')[0]
    ?.replace(/[\w~.-]{30,}/gu, '(kept out)')
    .slice(0, 160) ?? '';

export const teamsCheckup = async (parts: CheckupParts): Promise<readonly Finding[]> => {
  const findings: Finding[] = [];
  try {
    const token = await (parts.token ?? (() => askToken(parts)))();
    findings.push(
      token
        ? good('The sign-in service takes the Teams credentials.')
        : mend('The sign-in service gave no token.', 'Set TEAMS_CLIENT_SECRET again.'),
    );
  } catch (error) {
    findings.push(
      mend(
        `The sign-in service does not take the Teams credentials, or is not to be reached: ${reason(error)}.`,
        'Set TEAMS_CLIENT_ID, TEAMS_CLIENT_SECRET and TEAMS_TENANT_ID from the registration of the bot, and see that this machine reaches the internet.',
      ),
    );
  }
  findings.push(
    parts.channel
      ? good('The settings name the Teams channel of the workshop.')
      : mend(
          'The settings name no Teams channel: stop flags appear in no channel there.',
          'Write teams: with channel: 19:…@thread.tacv2 under it; the id stands in the link to the channel.',
        ),
    parts.peopleWithId > 0
      ? good(`${parts.peopleWithId} people of the settings have an id of the directory.`)
      : mend(
          'Nobody in the settings has an id of the directory: everybody in Teams is unknown.',
          'Write teams: with the object id of each person, from the directory.',
        ),
    parts.credentials.publicUrl
      ? good('Pictures and documents are fetched from TEAMS_PUBLIC_URL.')
      : mend(
          'TEAMS_PUBLIC_URL is not set: larger pictures are told in words only.',
          'Set it to the address of the messaging endpoint without /api/messages.',
        ),
  );
  return findings;
};
