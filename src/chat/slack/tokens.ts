// The Slack tokens from the environment: none, a ready set, or half a set with one line that says what is missing.

export type SlackMode = 'socket' | 'http';

export type SlackTokens = {
  readonly mode: SlackMode;
  /** xoxb-…: what the bot posts and reads with. */
  readonly bot: string;
  /** xapp-…, for Socket Mode. */
  readonly app?: string;
  /** Proves that a request comes from Slack, for HTTP. */
  readonly signingSecret?: string;
  /** Where the HTTP receiver listens. */
  readonly port: number;
  /** The address the HTTP receiver listens on; this machine only unless SLACK_HOST says otherwise. */
  readonly host: string;
  /** Where the Web API is; Slack's own when left out. For trying against a stand-in. */
  readonly apiUrl?: string;
};

export type TokensFound =
  | { readonly kind: 'none' }
  | { readonly kind: 'ready'; readonly tokens: SlackTokens }
  | { readonly kind: 'half'; readonly what: string; readonly doThis: string };

export const DEFAULT_PORT = 3000;

const half = (what: string, doThis: string): TokensFound => ({ kind: 'half', what, doThis });

/** What a token is by its beginning, in the words of the app's settings pages. */
const kindOf = (token: string): string => {
  if (token.startsWith('xoxb-')) return 'a bot token';
  if (token.startsWith('xapp-')) return 'an app-level token';
  if (token.startsWith('xoxp-')) return 'a user token';
  if (/^xox[a-z]?[.-]/u.test(token)) return 'another kind of Slack token';
  if (/^[0-9a-f]{32}$/u.test(token)) return 'a signing or client secret';
  return 'no Slack token';
};

/** Only TLS or this machine: nothing secret is sent to another address. */
export const mayHoldTokens = (address: string): boolean => {
  if (!URL.canParse(address)) return false;
  const { protocol, hostname } = new URL(address);
  return (
    protocol === 'https:' ||
    (protocol === 'http:' && /^(?:localhost|127\.\d+\.\d+\.\d+|\[::1\])$/u.test(hostname))
  );
};

/**
 * Reads SLACK_BOT_TOKEN, SLACK_APP_TOKEN, SLACK_SIGNING_SECRET, SLACK_MODE (socket or http), SLACK_PORT,
 * SLACK_HOST and SLACK_API_URL.
 * Without SLACK_MODE it is Socket Mode, unless only the signing secret is set beside the bot token.
 * No answer repeats a token.
 */
export const slackTokensFrom = (env: Readonly<Record<string, string | undefined>>): TokensFound => {
  const read = (name: string): string | undefined => env[name]?.trim() || undefined;
  const bot = read('SLACK_BOT_TOKEN');
  const app = read('SLACK_APP_TOKEN');
  const signingSecret = read('SLACK_SIGNING_SECRET');
  const said = read('SLACK_MODE')?.toLowerCase();
  if (!bot && !app && !signingSecret) {
    return said === undefined
      ? { kind: 'none' }
      : half(
          'SLACK_MODE is set, but no Slack token is.',
          'Set SLACK_BOT_TOKEN too, or take SLACK_MODE out.',
        );
  }
  if (said !== undefined && said !== 'socket' && said !== 'http')
    return half(`SLACK_MODE is "${said.slice(0, 20)}".`, 'Set it to socket or to http.');
  if (!bot)
    return half(
      `${app ? 'SLACK_APP_TOKEN' : 'SLACK_SIGNING_SECRET'} is set, but SLACK_BOT_TOKEN is missing.`,
      'Set SLACK_BOT_TOKEN to the token that begins xoxb-, from "OAuth & Permissions".',
    );
  if (!bot.startsWith('xoxb-'))
    return half(
      `SLACK_BOT_TOKEN holds ${kindOf(bot)}, where a bot token is due.`,
      'Set it to the token that begins xoxb-, from "OAuth & Permissions".',
    );
  const mode: SlackMode = said ?? (!app && signingSecret ? 'http' : 'socket');
  if (mode === 'socket' && !app)
    return half(
      'SLACK_BOT_TOKEN is set, but SLACK_APP_TOKEN is missing.',
      'Set SLACK_APP_TOKEN to the token that begins xapp-, from "Basic Information"; or for HTTP set SLACK_MODE=http and SLACK_SIGNING_SECRET.',
    );
  if (app && !app.startsWith('xapp-') && mode === 'socket')
    return half(
      `SLACK_APP_TOKEN holds ${kindOf(app)}, where an app-level token is due.`,
      'Set it to the token that begins xapp-, with the scope connections:write, from "Basic Information".',
    );
  if (mode === 'http' && !signingSecret)
    return half(
      'SLACK_MODE is http, but SLACK_SIGNING_SECRET is missing.',
      'Set SLACK_SIGNING_SECRET to the signing secret of "Basic Information".',
    );
  if (mode === 'http' && signingSecret && /^xox|^xapp/u.test(signingSecret))
    return half(
      `SLACK_SIGNING_SECRET holds ${kindOf(signingSecret)}, where the signing secret is due.`,
      'Set it to the signing secret of "Basic Information": letters and digits, no xox in front.',
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
    tokens: {
      mode,
      bot,
      port,
      host: read('SLACK_HOST') ?? '127.0.0.1',
      ...(app ? { app } : {}),
      ...(signingSecret ? { signingSecret } : {}),
      ...(apiUrl ? { apiUrl: apiUrl.replace(/\/?$/u, '/') } : {}),
    },
  };
};
