// What a failed call means for the outbox: wait, look before posting again, or give up with a sentence.
import {
  WebAPIHTTPError,
  WebAPIPlatformError,
  WebAPIRateLimitedError,
  WebAPIRequestError,
} from '@slack/web-api';
import type { PostFailure } from '../channel.ts';
import { textAt } from './json.ts';
import { withoutTokens } from './slack-log.ts';

/** Seconds to wait where Slack says to wait but not how long. */
const USUAL_WAIT = 30;

const SENTENCES: Readonly<Record<string, string>> = {
  account_inactive: 'The bot was removed from the workspace. Install the app again.',
  cant_update_message: 'The message is not one of the bot. Post a new one.',
  channel_not_found: 'Slack knows no such channel, or the bot is not in it. Invite the bot there.',
  edit_window_closed: 'The workspace allows no more changes to the message. Post a new one.',
  expired_trigger_id: 'The tap was more than 3 seconds ago. Tap again.',
  invalid_auth: 'Slack does not take the bot token. Set SLACK_BOT_TOKEN again.',
  is_archived: 'The channel is archived. Bring it back, or name another in the settings.',
  message_not_found: 'The message is not there any more. Post a new one.',
  not_authed: 'Slack does not take the bot token. Set SLACK_BOT_TOKEN again.',
  not_in_channel: 'The bot is not in the channel. Invite it there.',
  restricted_action: 'The workspace does not let the bot post there. Ask its owner.',
  token_expired: 'The bot token has expired. Set SLACK_BOT_TOKEN again.',
  token_revoked: 'The bot token was revoked. Install the app again and set SLACK_BOT_TOKEN.',
  user_not_found: 'Slack knows no such person. Mend the member id in the settings.',
};

/** After these nobody can know whether it was done. */
const UNCLEAR: ReadonlySet<string> = new Set([
  'fatal_error',
  'internal_error',
  'request_timeout',
  'service_unavailable',
  'team_added_to_org',
]);
const SLOW_DOWN: ReadonlySet<string> = new Set([
  'message_limit_exceeded',
  'rate_limited',
  'ratelimited',
]);
/** Nothing works until somebody mends the setting. */
const SETTING: ReadonlySet<string> = new Set([
  'account_inactive',
  'invalid_auth',
  'not_authed',
  'team_disabled',
  'token_expired',
  'token_revoked',
  'user_removed_from_team',
]);

/** Slack's own name of the error, such as "not_in_channel"; undefined where the call never got an answer. */
export const errorName = (error: unknown): string | undefined =>
  error instanceof WebAPIPlatformError ? error.data.error : undefined;

export const isSettingError = (error: unknown): boolean => SETTING.has(errorName(error) ?? '');

/** The sentence for one of Slack's errors. */
export const sentenceFor = (name: string, needed?: string): string =>
  name === 'missing_scope'
    ? `The app has no scope ${needed ?? 'for this'}. Add it from the manifest and install the app again.`
    : (SENTENCES[name] ?? `Slack answered "${name.slice(0, 60)}".`);

export const failureOf = (error: unknown): PostFailure => {
  const why = withoutTokens(error instanceof Error ? error.message : String(error));
  if (error instanceof WebAPIRateLimitedError)
    return { kind: 'wait', seconds: Math.max(1, error.retryAfter) };
  if (error instanceof WebAPIPlatformError) {
    const name = error.data.error;
    if (SLOW_DOWN.has(name)) return { kind: 'wait', seconds: USUAL_WAIT };
    // An answer that is no JSON stands in `error` whole: some proxy spoke, not Slack.
    if (UNCLEAR.has(name) || !/^[a-z0-9_:.-]{1,80}$/iu.test(name))
      return { kind: 'unclear', why: why.slice(0, 200) };
    const says = sentenceFor(name, textAt(error.data, 'needed'));
    // Every post would be refused until the setting is mended; none is given up for it.
    return { kind: SETTING.has(name) ? 'unclear' : 'refused', why: says };
  }
  if (error instanceof WebAPIHTTPError)
    return error.statusCode >= 500 || error.statusCode === 408
      ? { kind: 'unclear', why }
      : { kind: 'refused', why: `Slack answered with status ${error.statusCode}.` };
  if (error instanceof WebAPIRequestError) return { kind: 'unclear', why };
  // A 429 whose Retry-After is no number is a plain error.
  if (why.includes('Retry header')) return { kind: 'wait', seconds: USUAL_WAIT };
  return { kind: 'unclear', why };
};
