// The Web API client. Left as it comes it has no time limit, posts twice after a reset and stops everything for one 429;
// so: no retries of its own, a time limit, and a 429 is an error for the outbox to wait on.
import { WebClient, type WebClientOptions } from '@slack/web-api';
import { loggerFor, type SlackLog } from './slack-log.ts';

/** Milliseconds for one call. */
const TIME_LIMIT = 10_000;

export type ClientOptions = Pick<WebClientOptions, 'slackApiUrl' | 'fetch' | 'timeout'>;

/** A fresh object each time: Slack's packages change the one they are given. */
export const clientOptionsFor = (options: ClientOptions, log: SlackLog): WebClientOptions => ({
  timeout: TIME_LIMIT,
  ...options,
  retryConfig: { retries: 0 },
  rejectRateLimitedCalls: true,
  logger: loggerFor(log),
});

export const webClient = (token: string, options: ClientOptions, log: SlackLog): WebClient =>
  new WebClient(token, clientOptionsFor(options, log));
