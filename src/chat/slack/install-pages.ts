// Installing the app to a workspace from a browser: Slack's OAuth, version 2. The state is used once, lives ten minutes and
// is tied to the browser that began, so that nobody is led to finish an installation that somebody else began.
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import type { WebClient } from '@slack/web-api';
import type { SharedShelf } from '../../store/shared-shelf.ts';
import { changePaper } from '../change-paper.ts';
import type { Installation } from './installations.ts';
import { errorName } from './post-failure.ts';
import type { Page } from './request-receiver.ts';
import { SCOPES } from './scopes.ts';
import type { SlackLog } from './slack-log.ts';

/** States that were given out; where several processes share them, one may finish what another began. */
export type States = {
  /** @param at milliseconds since 1970 */
  readonly give: (state: string, at: number) => Promise<void>;
  /** When it was given out, once; undefined where it was not, or was taken before. */
  readonly take: (state: string) => Promise<number | undefined>;
};

export type InstallOptions = {
  /** In the memory of this process when left out. */
  readonly states?: States;
  readonly clientId: string;
  readonly clientSecret: string;
  /** Where the door is reached from outside, such as https://chargehand.example.org. */
  readonly publicUrl: string;
  /** Workspaces that may install; any when left out. */
  readonly teams?: readonly string[];
  /** Made without a token: the exchange of the code needs none. */
  readonly web: WebClient;
  readonly clock: () => string;
  readonly log: SlackLog;
  /** Keeps the installation and starts its workshop. */
  readonly installed: (installation: Installation) => Promise<void>;
};

export const INSTALL_PATH = '/slack/install';
export const REDIRECT_PATH = '/slack/oauth_redirect';
const AUTHORIZE = 'https://slack.com/oauth/v2/authorize';
const COOKIE = 'chargehand_install';
const LIFE = 600;
const MOST_STATES = 1_000;

const hashed = (text: string): Buffer => createHash('sha256').update(text).digest();

const cookieOf = (request: IncomingMessage): string =>
  (request.headers.cookie ?? '')
    .split(';')
    .map((each) => each.trim())
    .find((each) => each.startsWith(`${COOKIE}=`))
    ?.slice(COOKIE.length + 1) ?? '';

const said = (status: number, text: string): Page => ({ status, text });

const statesInMemory = (): States => {
  const states = new Map<string, number>();
  return {
    give: async (state, now) => {
      for (const [old, at] of states)
        if (states.size >= MOST_STATES || now - at > LIFE * 1000) states.delete(old);
      states.set(state, now);
    },
    take: async (state) => {
      const given = states.get(state);
      states.delete(state);
      return given;
    },
  };
};

const STATES = 'install-states';

/** One paper with the hashes of all: whoever reads it cannot finish an installation by it. */
export const sharedStates = (shelf: Pick<SharedShelf, 'paper' | 'writePaper'>): States => {
  const change = <T>(
    make: (states: Readonly<Record<string, number>>) => readonly [Record<string, number>, T],
  ): Promise<T> =>
    changePaper(shelf, STATES, (text) => {
      const [next, result] = make(JSON.parse(text ?? '{}') as Record<string, number>);
      return [JSON.stringify(next), result];
    });
  const nameOf = (state: string): string => hashed(state).toString('hex');
  return {
    give: (state, now) =>
      change((states) => {
        const fresh = Object.entries(states).filter(([, at]) => now - at <= LIFE * 1000);
        return [
          Object.fromEntries([...fresh.slice(1 - MOST_STATES), [nameOf(state), now]]),
          undefined,
        ];
      }),
    take: (state) =>
      change((states) => {
        const { [nameOf(state)]: given, ...rest } = states;
        return [rest, given];
      }),
  };
};

export const installPages = (options: InstallOptions) => {
  const { publicUrl, log } = options;
  const redirect = `${publicUrl.replace(/\/$/u, '')}${REDIRECT_PATH}`;
  const secure = redirect.startsWith('https:') ? '; Secure' : '';
  const now = (): number => Date.parse(options.clock());
  const states = options.states ?? statesInMemory();

  const begin = async (): Promise<Page> => {
    const state = randomBytes(32).toString('hex');
    await states.give(state, now());
    const query = new URLSearchParams({
      client_id: options.clientId,
      scope: Object.keys(SCOPES).sort().join(','),
      redirect_uri: redirect,
      state,
    });
    return {
      status: 302,
      text: '',
      headers: {
        location: `${AUTHORIZE}?${query}`,
        'set-cookie': `${COOKIE}=${state}; HttpOnly; SameSite=Lax; Path=/slack; Max-Age=${LIFE}${secure}`,
      },
    };
  };

  const finish = async (request: IncomingMessage, query: URLSearchParams): Promise<Page> => {
    const state = query.get('state') ?? '';
    const given = await states.take(state);
    if (
      given === undefined ||
      now() - given > LIFE * 1000 ||
      !timingSafeEqual(hashed(cookieOf(request)), hashed(state))
    )
      return said(
        400,
        `The installation was not begun here, or more than ten minutes ago. Begin again at ${INSTALL_PATH}.`,
      );
    if (query.get('error'))
      return said(200, `Nothing was installed. Begin again at ${INSTALL_PATH} when you mean to.`);
    const code = query.get('code');
    if (!code) return said(400, `Slack sent no code. Begin again at ${INSTALL_PATH}.`);
    let answer: Awaited<ReturnType<WebClient['oauth']['v2']['access']>>;
    try {
      answer = await options.web.oauth.v2.access({
        client_id: options.clientId,
        client_secret: options.clientSecret,
        code,
        redirect_uri: redirect,
      });
    } catch (error) {
      const name = errorName(error);
      log('warn', 'An installation was not finished.', { why: name ?? 'Slack was not reached' });
      return said(
        502,
        name
          ? `Slack did not finish the installation ("${name}"). Begin again at ${INSTALL_PATH}.`
          : `Slack was not reached. Begin again at ${INSTALL_PATH} in a minute.`,
      );
    }
    const { team, access_token: token, authed_user: by } = answer;
    if (answer.is_enterprise_install || !team?.id || !token?.startsWith('xoxb-'))
      return said(400, 'Install the app to one workspace, not to a whole organization.');
    if (options.teams && !options.teams.includes(team.id)) {
      log('warn', 'An installation to a workspace that is not listed was refused.', {
        team: team.id,
      });
      return said(
        403,
        `The workspace ${team.id} is not among those that may use this Chargehand. Ask whoever runs it to add the id to SLACK_TEAMS.`,
      );
    }
    try {
      await options.installed({
        team: team.id,
        name: team.name ?? team.id,
        by: by?.id ?? '',
        at: options.clock(),
        token,
      });
    } catch (error) {
      log('error', 'An installation could not be kept.', { why: (error as Error).message });
      return said(
        500,
        'The installation could not be kept. Whoever runs Chargehand finds the cause in the log.',
      );
    }
    log('info', 'The app was installed to a workspace.', { team: team.id });
    return said(
      200,
      `Chargehand is in the workspace ${team.name ?? team.id}. In the channel of the workshop type /invite @Chargehand, then "open job".`,
    );
  };

  return async (request: IncomingMessage): Promise<Page | undefined> => {
    const url = new URL(request.url ?? '/', 'http://door');
    if (url.pathname !== INSTALL_PATH && url.pathname !== REDIRECT_PATH) return undefined;
    if (request.method !== 'GET') return said(405, 'Only GET is served here.');
    return url.pathname === INSTALL_PATH ? begin() : finish(request, url.searchParams);
  };
};
