// Runs the command as its user does: a process of its own, without a network, with a time limit.
import { spawn, spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { ROOT } from '../layout/sources.ts';

export const BIN = join(ROOT, 'src/cli/chargehand.js');

/** The environment without what could join a workspace. */
export const quietEnv = (more: NodeJS.ProcessEnv = {}): NodeJS.ProcessEnv => {
  const {
    SLACK_BOT_TOKEN: _b,
    SLACK_APP_TOKEN: _a,
    SLACK_SIGNING_SECRET: _s,
    SLACK_MODE: _m,
    CHARGEHAND_DATA: _d,
    CHARGEHAND_PORT: _p,
    ...rest
  } = process.env;
  return { ...rest, ...more };
};

export const runCommand = (
  args: readonly string[],
  options: {
    readonly input?: string;
    readonly env?: NodeJS.ProcessEnv;
    readonly cwd?: string;
  } = {},
) => {
  const run = spawnSync(process.execPath, [BIN, ...args], {
    encoding: 'utf8',
    timeout: 60_000,
    maxBuffer: 64 * 1024 * 1024,
    env: quietEnv(options.env),
    cwd: options.cwd ?? ROOT,
    ...(options.input === undefined ? {} : { input: options.input }),
  });
  return { code: run.status, out: run.stdout, err: run.stderr };
};

/** Starts the bench and resolves with its address, once it prints it. */
export const startBench = async (
  folder: string,
): Promise<{
  readonly address: string;
  readonly stop: (signal?: NodeJS.Signals) => Promise<number | null>;
}> => {
  const child = spawn(process.execPath, [BIN, 'start', '--port', '0', '--data', folder], {
    env: quietEnv(),
    cwd: folder,
  });
  const ended = new Promise<number | null>((done) => child.once('exit', (code) => done(code)));
  const address = await new Promise<string>((done, fail) => {
    let printed = '';
    let complained = '';
    child.stderr.on('data', (chunk: Buffer) => {
      complained += chunk.toString();
    });
    child.stdout.on('data', (chunk: Buffer) => {
      printed += chunk.toString();
      const found = /http:\/\/\S+/u.exec(printed)?.[0];
      if (found) done(found);
    });
    void ended.then((code) => fail(new Error(`The bench ended with ${code}: ${complained}`)));
  });
  return {
    address,
    stop: async (signal = 'SIGTERM') => {
      child.kill(signal);
      return ended;
    },
  };
};
