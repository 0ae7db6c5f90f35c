// What the Slack channel logs to, and the logger that Slack's packages are given: theirs go to ours.
import type { Logger } from '@slack/bolt';

export type SlackLog = (level: 'info' | 'warn' | 'error', what: string, more?: object) => void;

/** Tokens never reach a log line, whatever a package puts into an error. */
export const withoutTokens = (text: string): string =>
  text.replace(/\b(?:xox[a-z]|xapp)-[A-Za-z0-9-]+/gu, '(token)');

/** Slack's packages log request by request; only what went wrong is passed on. */
export const loggerFor = (log: SlackLog): Logger => {
  const line = (parts: readonly unknown[]) =>
    withoutTokens(
      parts.map((part) => (part instanceof Error ? part.message : String(part))).join(' '),
    ).slice(0, 500);
  return {
    debug: () => undefined,
    info: () => undefined,
    warn: (...parts) => log('warn', line(parts), { from: 'slack' }),
    error: (...parts) => log('error', line(parts), { from: 'slack' }),
    setLevel: () => undefined,
    getLevel: () => 'warn' as ReturnType<Logger['getLevel']>,
    setName: () => undefined,
  };
};
