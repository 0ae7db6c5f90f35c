// The Teams credentials from the environment: none, a ready set, or half a set with one line that says what is missing.

export type TeamsCredentials = {
  /** The application (client) id of the bot's registration. */
  readonly clientId: string;
  readonly clientSecret: string;
  /** The directory (tenant) id: the bot answers this organisation only. */
  readonly tenantId: string;
  /** Where the messaging endpoint listens. */
  readonly port: number;
  /** The address it listens on; this machine only unless TEAMS_HOST says otherwise. */
  readonly host: string;
  /** The address people's Teams reaches the endpoint under, for pictures and documents; no slash at its end. */
  readonly publicUrl?: string;
};

export type CredentialsFound =
  | { readonly kind: 'none' }
  | { readonly kind: 'ready'; readonly credentials: TeamsCredentials }
  | { readonly kind: 'half'; readonly what: string; readonly doThis: string };

export const DEFAULT_PORT = 3978;

const GUID = /^[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}$/iu;

const NAMES = {
  TEAMS_CLIENT_ID: 'the application (client) id of the bot',
  TEAMS_CLIENT_SECRET: 'a client secret of the bot (its value, not its id)',
  TEAMS_TENANT_ID: 'the directory (tenant) id of your organisation',
} as const;

const half = (what: string, doThis: string): CredentialsFound => ({ kind: 'half', what, doThis });

/**
 * Reads TEAMS_CLIENT_ID, TEAMS_CLIENT_SECRET, TEAMS_TENANT_ID, TEAMS_PORT, TEAMS_HOST and TEAMS_PUBLIC_URL.
 * No answer repeats a secret.
 */
export const teamsCredentialsFrom = (
  env: Readonly<Record<string, string | undefined>>,
): CredentialsFound => {
  const read = (name: string): string | undefined => env[name]?.trim() || undefined;
  const names = Object.keys(NAMES) as (keyof typeof NAMES)[];
  const set = names.filter((name) => read(name) !== undefined);
  if (set.length === 0) return { kind: 'none' };
  const missing = names.find((name) => read(name) === undefined);
  if (missing)
    return half(
      `${set.join(' and ')} ${set.length > 1 ? 'are' : 'is'} set, but ${missing} is missing.`,
      `Set ${missing} to ${NAMES[missing]}.`,
    );
  const clientId = read('TEAMS_CLIENT_ID') ?? '';
  const tenantId = read('TEAMS_TENANT_ID') ?? '';
  const wrong = [
    ['TEAMS_CLIENT_ID', clientId] as const,
    ['TEAMS_TENANT_ID', tenantId] as const,
  ].find(([, value]) => !GUID.test(value));
  if (wrong)
    return half(
      `${wrong[0]} has not the form of an id (8-4-4-4-12 digits and letters a to f).`,
      `Set it to ${NAMES[wrong[0]]}.`,
    );
  const clientSecret = read('TEAMS_CLIENT_SECRET') ?? '';
  if (GUID.test(clientSecret))
    return half(
      'TEAMS_CLIENT_SECRET holds the id of a secret.',
      `Set it to ${NAMES.TEAMS_CLIENT_SECRET}.`,
    );
  const portWord = read('TEAMS_PORT');
  const port = portWord === undefined ? DEFAULT_PORT : Number(portWord);
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    return half(
      `TEAMS_PORT is "${portWord?.slice(0, 20)}".`,
      `Set it to a port from 1 to 65535, such as ${DEFAULT_PORT}.`,
    );
  const publicUrl = read('TEAMS_PUBLIC_URL')?.replace(/\/+$/u, '');
  if (publicUrl !== undefined && !(URL.canParse(publicUrl) && publicUrl.startsWith('https://')))
    return half(
      'TEAMS_PUBLIC_URL is no https address.',
      'Set it to the address of the messaging endpoint without /api/messages, or take it out.',
    );
  return {
    kind: 'ready',
    credentials: {
      clientId,
      clientSecret,
      tenantId,
      port,
      host: read('TEAMS_HOST') ?? '127.0.0.1',
      ...(publicUrl ? { publicUrl } : {}),
    },
  };
};
