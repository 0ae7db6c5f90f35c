// Looks whether a workspace is set up: tokens taken, scopes given, channel joined, clocks alike. Changes nothing there.
import { at, payload, textAt } from './json.ts';
import { sentenceFor } from './post-failure.ts';
import { SCOPES } from './scopes.ts';
import { MOST_SECONDS_APART } from './signature.ts';
import type { SlackTokens } from './tokens.ts';

export type Finding =
  | { readonly good: true; readonly what: string }
  | { readonly good: false; readonly what: string; readonly doThis: string };

export type CheckupOptions = {
  readonly tokens: SlackTokens;
  /** The channel of the settings, where jobs are opened and stops appear. */
  readonly channel: string | undefined;
  /** People of the settings with their member ids. */
  readonly people: readonly { readonly name: string; readonly slack?: string | undefined }[];
  readonly clock: () => string;
  readonly fetch?: typeof globalThis.fetch;
};

/** Seconds of difference that are worth a word, though nothing fails yet. */
const NOTICEABLE = 60;
const TIME_LIMIT = 10_000;
/** People whose ids are tried. */
const MOST_PEOPLE = 80;

const good = (what: string): Finding => ({ good: true, what });
const mend = (what: string, doThis: string): Finding => ({ good: false, what, doThis });

type Answer = { readonly body: unknown; readonly headers: Headers } | { readonly failed: string };

export const slackCheckup = async (options: CheckupOptions): Promise<readonly Finding[]> => {
  const { tokens, clock } = options;
  const fetch = options.fetch ?? globalThis.fetch;
  const base = tokens.apiUrl ?? 'https://slack.com/api/';

  const call = async (method: string, token: string, fields: object = {}): Promise<Answer> => {
    try {
      const response = await fetch(`${base}${method}`, {
        method: 'POST',
        headers: { authorization: `Bearer ${token}` },
        body: new URLSearchParams({ ...fields }),
        redirect: 'error',
        signal: AbortSignal.timeout(TIME_LIMIT),
      });
      if (!response.ok) return { failed: `Slack answered with status ${response.status}` };
      const body = payload(await response.json());
      return body ? { body, headers: response.headers } : { failed: 'Slack answered no object' };
    } catch (error) {
      const cause = (error as { cause?: { code?: string } }).cause?.code;
      return { failed: `Slack is not reached${cause ? ` (${cause})` : ''}` };
    }
  };

  const scopesOf = (headers: Headers): Finding => {
    const given = headers.get('x-oauth-scopes');
    if (given === null)
      return mend('Slack did not say which scopes the app has.', 'Run this command again.');
    const has = new Set(given.split(',').map((scope) => scope.trim()));
    const missing = Object.entries(SCOPES).filter(([scope]) => !has.has(scope));
    return missing.length === 0
      ? good(`The app has the ${Object.keys(SCOPES).length} scopes it needs.`)
      : mend(
          `The app lacks ${missing.map(([scope, use]) => `${scope} (to ${use.replace(/^the /u, 'offer the ')})`).join(', ')}.`,
          'Add them under "OAuth & Permissions", or paste the manifest again, and install the app again.',
        );
  };

  const clockOf = (headers: Headers): Finding => {
    const there = Date.parse(headers.get('date') ?? '');
    if (Number.isNaN(there)) return good('Slack did not tell its time; the clock is not compared.');
    const apart = Math.round(Math.abs(there - Date.parse(clock())) / 1000);
    return apart < NOTICEABLE
      ? good('The clock here and that of Slack agree.')
      : mend(
          `The clock here is ${apart} s away from that of Slack${apart > MOST_SECONDS_APART ? ', so every signed request is refused' : ''}.`,
          'Set the clock of this machine by a time server.',
        );
  };

  const appTokenOf = async (): Promise<Finding> => {
    if (tokens.mode === 'http')
      return good(
        `HTTP: Slack has to reach ${tokens.host}:${tokens.port} at /slack/events, /slack/actions and /slack/commands.`,
      );
    const answer = await call('apps.connections.open', tokens.app ?? '');
    if ('failed' in answer)
      return mend(`The app token could not be tried: ${answer.failed}.`, 'Try again.');
    if (at(answer.body, 'ok') === true) return good('Slack takes the app token for Socket Mode.');
    const name = textAt(answer.body, 'error') ?? 'unknown';
    if (name === 'missing_scope' || name === 'not_allowed_token_type')
      return mend(
        'The app token has not the scope connections:write.',
        'Make another one with it under "Basic Information".',
      );
    return mend(
      `Slack refused the app token ("${name}").`,
      'Set SLACK_APP_TOKEN to the token that begins xapp-, and turn Socket Mode on.',
    );
  };

  const channelOf = async (): Promise<Finding> => {
    const { channel } = options;
    if (!channel)
      return mend(
        'The settings name no Slack channel.',
        "Write its id into settings.yaml, under slack: channel: it stands at the end of the channel's details and begins with C.",
      );
    if (!/^[CG][A-Z0-9]{2,}$/u.test(channel))
      return mend(
        `The channel "${channel.slice(0, 40)}" of the settings is no channel id.`,
        "Write the id that stands at the end of the channel's details and begins with C.",
      );
    const answer = await call('conversations.history', tokens.bot, { channel, limit: '1' });
    if ('failed' in answer)
      return mend(`The channel could not be tried: ${answer.failed}.`, 'Try again.');
    if (at(answer.body, 'ok') === true) return good(`The bot is in the channel ${channel}.`);
    const name = textAt(answer.body, 'error') ?? 'unknown';
    return name === 'not_in_channel' || name === 'channel_not_found'
      ? mend(`The bot is not in the channel ${channel}.`, 'Type /invite @Chargehand there.')
      : mend(
          `The channel ${channel} cannot be read ("${name}").`,
          sentenceFor(name, textAt(answer.body, 'needed')),
        );
  };

  const withId = options.people.flatMap(({ name, slack }) => (slack ? [{ name, slack }] : []));
  const people =
    withId.length > 0
      ? good(`${withId.length} people of the settings have a member id.`)
      : mend(
          'Nobody of the settings has a Slack member id, so nothing can be recorded from Slack.',
          "Add slack: with the member id to each person; it is copied from the person's profile in Slack.",
        );

  /** Ids that the workspace does not know, or whose accounts were removed. */
  const idsOf = async (): Promise<readonly Finding[]> => {
    const wrong: string[] = [];
    for (const { name, slack } of withId.slice(0, MOST_PEOPLE)) {
      const answer = await call('users.info', tokens.bot, { user: slack });
      if ('failed' in answer) return [];
      const error = textAt(answer.body, 'error');
      if (error === 'user_not_found' || error === 'user_not_visible')
        wrong.push(`${name} (${slack}, not in this workspace)`);
      else if (at(answer.body, 'user.deleted') === true)
        wrong.push(`${name} (${slack}, an account that was removed)`);
      else if (error) return [];
    }
    return wrong.length === 0
      ? []
      : [
          mend(
            `The member ids of ${wrong.join(', ')} lead to nobody.`,
            "Copy the ids from the people's profiles in Slack again.",
          ),
        ];
  };

  const who = await call('auth.test', tokens.bot);
  if ('failed' in who)
    return [
      mend(`${who.failed}.`, 'Check the network and the proxy of this machine, then try again.'),
      people,
    ];
  if (at(who.body, 'ok') !== true) {
    const name = textAt(who.body, 'error') ?? 'unknown';
    return [mend(`Slack refused the bot token ("${name}").`, sentenceFor(name)), people];
  }
  const team = textAt(who.body, 'team') ?? textAt(who.body, 'team_id') ?? '';
  return [
    good(`Slack takes the bot token, for the workspace ${team.slice(0, 60)}.`),
    scopesOf(who.headers),
    clockOf(who.headers),
    await appTokenOf(),
    await channelOf(),
    people,
    ...(await idsOf()),
  ];
};
