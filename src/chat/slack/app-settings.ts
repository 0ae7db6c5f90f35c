// The settings of an app that several workspaces install, from the environment: none, a ready set, or half a set with one line.
import { keyFrom, type TokenKeys } from './installations.ts';
import { DEFAULT_PORT, mayHoldTokens } from './tokens.ts';

export type AppSettings = {
  readonly clientId: string;
  readonly clientSecret: string;
  readonly signingSecret: string;
  readonly publicUrl: string;
  readonly keys: TokenKeys;
  readonly port: number;
  readonly host: string;
  /** Ids of the workspaces that may install; any when left out. */
  readonly teams?: readonly string[];
  readonly apiUrl?: string;
};

export type AppFound =
  | { readonly kind: 'none' }
  | { readonly kind: 'ready'; readonly app: AppSettings }
  | { readonly kind: 'half'; readonly what: string; readonly doThis: string };

const half = (what: string, doThis: string): AppFound => ({ kind: 'half', what, doThis });

const MAKE_KEY = 'Make one with "openssl rand -hex 32" and keep it apart from the data folder.';

/**
 * Reads SLACK_CLIENT_ID, SLACK_CLIENT_SECRET, SLACK_SIGNING_SECRET, SLACK_PUBLIC_URL, CHARGEHAND_TOKEN_KEY,
 * CHARGEHAND_TOKEN_KEY_OLD, SLACK_TEAMS, SLACK_PORT, SLACK_HOST and SLACK_API_URL. None unless SLACK_CLIENT_ID or
 * SLACK_CLIENT_SECRET is set. No answer repeats a secret.
 */
export const slackAppFrom = (env: Readonly<Record<string, string | undefined>>): AppFound => {
  const read = (name: string): string | undefined => env[name]?.trim() || undefined;
  const clientId = read('SLACK_CLIENT_ID');
  const clientSecret = read('SLACK_CLIENT_SECRET');
  if (!clientId && !clientSecret) return { kind: 'none' };
  if (read('SLACK_BOT_TOKEN') || read('SLACK_APP_TOKEN'))
    return half(
      'SLACK_CLIENT_ID is set for several workspaces, and a token for one beside it.',
      'Take SLACK_BOT_TOKEN and SLACK_APP_TOKEN out, or SLACK_CLIENT_ID and SLACK_CLIENT_SECRET.',
    );
  for (const [name, value] of [
    ['SLACK_CLIENT_ID', clientId],
    ['SLACK_CLIENT_SECRET', clientSecret],
    ['SLACK_SIGNING_SECRET', read('SLACK_SIGNING_SECRET')],
  ] as const)
    if (!value)
      return half(
        `Several workspaces need ${name}, which is missing.`,
        'Copy it from "Basic Information" of the app.',
      );
  const publicUrl = read('SLACK_PUBLIC_URL');
  if (!publicUrl || !mayHoldTokens(publicUrl))
    return half(
      publicUrl
        ? 'SLACK_PUBLIC_URL is no https address.'
        : 'Several workspaces need SLACK_PUBLIC_URL, which is missing.',
      'Set it to the address that Slack and browsers reach, such as https://chargehand.example.org.',
    );
  const keyText = read('CHARGEHAND_TOKEN_KEY');
  if (!keyText)
    return half('CHARGEHAND_TOKEN_KEY is missing: tokens are not kept unencrypted.', MAKE_KEY);
  const current = keyFrom(keyText);
  if (!current)
    return half(
      'CHARGEHAND_TOKEN_KEY is no key of 32 bytes, as 64 hexadecimal digits or base64.',
      MAKE_KEY,
    );
  const oldText = read('CHARGEHAND_TOKEN_KEY_OLD');
  const old = oldText ? keyFrom(oldText) : undefined;
  if (oldText && !old)
    return half(
      'CHARGEHAND_TOKEN_KEY_OLD is no key of 32 bytes.',
      'Set it to the key before, or take it out.',
    );
  const teams = read('SLACK_TEAMS')
    ?.split(/[\s,]+/u)
    .filter(Boolean);
  const wrong = teams?.find((team) => !/^T[A-Z0-9]{2,20}$/u.test(team));
  if (wrong)
    return half(
      `SLACK_TEAMS names "${wrong.slice(0, 20)}", which is no workspace id.`,
      'Write ids that begin with T, with commas between them.',
    );
  const portWord = read('SLACK_PORT');
  const port = portWord === undefined ? DEFAULT_PORT : Number(portWord);
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    return half(
      `SLACK_PORT is "${portWord?.slice(0, 20)}".`,
      'Set it to a port from 1 to 65535, such as 3000.',
    );
  const apiUrl = read('SLACK_API_URL');
  if (apiUrl !== undefined && !mayHoldTokens(apiUrl))
    return half(
      'SLACK_API_URL is neither https nor on this machine, and tokens would be sent there.',
      'Take it out: it is only for trying against a stand-in.',
    );
  return {
    kind: 'ready',
    app: {
      clientId: clientId ?? '',
      clientSecret: clientSecret ?? '',
      signingSecret: read('SLACK_SIGNING_SECRET') ?? '',
      publicUrl,
      keys: { current, ...(old ? { old } : {}) },
      port,
      host: read('SLACK_HOST') ?? '127.0.0.1',
      ...(teams && teams.length > 0 ? { teams } : {}),
      ...(apiUrl ? { apiUrl: apiUrl.replace(/\/?$/u, '/') } : {}),
    },
  };
};
