// A bot process of its own, started as people start it; killed as a power cut does.
import { type ChildProcess, spawn } from 'node:child_process';
import { createServer } from 'node:net';
import { join } from 'node:path';

const ENTRY = join(import.meta.dirname, '..', '..', '..', 'src', 'cli', 'chargehand.js');

export type BotProcess = {
  readonly address: string;
  readonly said: () => string;
  readonly kill: () => Promise<void>;
  /** A planned stop. */
  readonly stop: () => Promise<void>;
};

const freePort = (): Promise<number> =>
  new Promise((done, failed) => {
    const server = createServer();
    server.once('error', failed);
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      server.close(() => done(typeof address === 'object' && address ? address.port : 0));
    });
  });

const ends = (child: ChildProcess): Promise<void> =>
  new Promise((done) => {
    if (child.exitCode !== null || child.signalCode !== null) done();
    else child.once('exit', () => done());
  });

const listens = async (address: string, child: ChildProcess, said: () => string): Promise<void> => {
  for (let tries = 0; tries < 600; tries += 1) {
    if (child.exitCode !== null) throw new Error(`The process ended: ${said()}`);
    try {
      await fetch(`${address}/slack/events`, { method: 'POST', body: '{}' });
      return;
    } catch {
      await new Promise((done) => setTimeout(done, 100));
    }
  }
  throw new Error(`The process did not begin to listen: ${said()}`);
};

/** @param env what the process is told beside the port, over the environment of this one without its Slack settings */
export const botProcess = async (
  folder: string,
  env: Readonly<Record<string, string>>,
): Promise<BotProcess> => {
  const port = await freePort();
  const clean = Object.fromEntries(
    Object.entries(process.env).filter(([name]) => !/^(?:SLACK|TEAMS|CHARGEHAND)_/u.test(name)),
  );
  const child = spawn(process.execPath, [ENTRY, 'start', '--data', folder], {
    cwd: folder,
    env: { ...clean, ...env, SLACK_PORT: String(port) },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let text = '';
  for (const stream of [child.stdout, child.stderr])
    stream?.on('data', (part: Buffer) => {
      text = `${text}${part.toString('utf8')}`.slice(-4_000);
    });
  const address = `http://127.0.0.1:${port}`;
  const said = (): string => text;
  await listens(address, child, said);
  return {
    address,
    said,
    kill: async () => {
      child.kill('SIGKILL');
      await ends(child);
    },
    stop: async () => {
      child.kill('SIGTERM');
      await ends(child);
    },
  };
};
