// The log: one JSON line for each thing, and no line with a token in it, wherever it came from.
import { mkdir, open } from 'node:fs/promises';
import { dirname } from 'node:path';
import pino, { type Logger } from 'pino';

/** Kinds of tokens known by their beginning, also where they are not ours. */
const TOKENS = /\b(?:xox[a-z]|xapp)[-.][A-Za-z0-9.-]{6,}|\bBearer [A-Za-z0-9._~+/=-]{12,}/gu;
/** Settings of the environment that hold a secret, by their name. */
const SECRET_NAME = /(?:TOKEN|SECRET|PASSWORD|PASSWD|_KEY|_DATABASE|DATABASE_URL)$/u;

/** The secrets of the environment, the longest first. */
export const secretsOf = (env: Readonly<Record<string, string | undefined>>): readonly string[] =>
  Object.entries(env)
    .flatMap(([name, value]) => {
      const secret = value?.trim() ?? '';
      if (!SECRET_NAME.test(name) || secret.length < 6) return [];
      // The address of a database has its password inside, which an error may carry alone.
      const password = URL.canParse(secret) ? new URL(secret).password : '';
      return password.length >= 4 ? [secret, password, decodeURIComponent(password)] : [secret];
    })
    .sort((a, b) => b.length - a.length);

/** The text without any of the secrets, and without what looks like a token. */
export const withoutSecrets = (text: string, secrets: readonly string[]): string => {
  let clean = text;
  for (const secret of secrets) {
    clean = clean.replaceAll(secret, '(kept out)');
    const inJson = JSON.stringify(secret).slice(1, -1);
    if (inJson !== secret) clean = clean.replaceAll(inJson, '(kept out)');
  }
  return clean.replace(TOKENS, '(token)');
};

/**
 * A log in a file. Rejects where it cannot be opened.
 * @param lost told once, should it no longer be written later: the record of the jobs is kept elsewhere and goes on
 */
export const openLog = async (
  file: string,
  secrets: readonly string[],
  lost: (error: Error) => void,
): Promise<Logger> => {
  await mkdir(dirname(file), { recursive: true });
  await (await open(file, 'a', 0o600)).close();
  const to = pino.destination({ dest: file, mkdir: true, sync: false });
  to.once('error', (error: Error) => {
    to.on('error', () => undefined);
    lost(error);
  });
  const cleaning = {
    write: (line: string) => to.write(withoutSecrets(line, secrets)),
    flush: (done?: (error?: Error) => void) => to.flush(done),
  };
  return pino({ base: { pid: process.pid } }, cleaning);
};
