// A PostgreSQL of the test's own: in a temporary folder, on a free port of this machine, gone afterwards.
import { execFileSync, spawn } from 'node:child_process';
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';

export type Cluster = {
  /** postgres://… of a fresh database in it. */
  readonly database: (name: string) => Promise<string>;
  readonly stop: () => Promise<void>;
};

const FOLDERS = (): readonly string[] => {
  const debian = '/usr/lib/postgresql';
  const versions = existsSync(debian) ? readdirSync(debian).sort().reverse() : [];
  return [
    ...versions.map((version) => join(debian, version, 'bin')),
    ...(process.env.PATH ?? '').split(delimiter),
  ];
};

/** The folder with both programs; undefined on a machine without PostgreSQL. */
const binaries = FOLDERS().find((folder) =>
  ['initdb', 'postgres'].every((name) => existsSync(join(folder, name))),
);

export const hasPostgres = binaries !== undefined;
export const WITHOUT_POSTGRES =
  '(left out on a machine without PostgreSQL: install the package postgresql)';

const freePort = (): Promise<number> =>
  new Promise((done, failed) => {
    const server = createServer();
    server.once('error', failed);
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      const port = typeof address === 'object' && address !== null ? address.port : 0;
      server.close(() => done(port));
    });
  });

/** PostgreSQL refuses to run as root: then it runs as the account of its package, or as nobody. */
const account = (): { uid: number; gid: number } | Record<string, never> => {
  if (process.getuid?.() !== 0) return {};
  for (const name of ['postgres', 'nobody']) {
    try {
      const id = (flag: string): number =>
        Number(execFileSync('id', [flag, name], { encoding: 'utf8' }).trim());
      return { uid: id('-u'), gid: id('-g') };
    } catch {
      // The next name is tried.
    }
  }
  return {};
};

/** @param synced whether it waits for the disk, as a real one does; only a bench needs it */
export const startCluster = async (synced = false): Promise<Cluster> => {
  if (binaries === undefined) throw new Error(`No PostgreSQL is here. ${WITHOUT_POSTGRES}`);
  const folder = mkdtempSync(join(tmpdir(), 'chargehand-postgres-'));
  const who = account();
  if ('uid' in who) chownSync(folder, who.uid, who.gid);
  const data = join(folder, 'data');
  const env = { ...process.env, LC_ALL: 'C', TZ: 'UTC' };
  execFileSync(
    join(binaries, 'initdb'),
    ['-D', data, '-U', 'chargehand', '-A', 'trust', '-E', 'UTF8', '--no-sync'],
    { ...who, env, cwd: folder, stdio: 'pipe' },
  );
  const port = await freePort();
  const server = spawn(
    join(binaries, 'postgres'),
    [
      ...['-D', data, '-p', String(port), '-c', 'listen_addresses=127.0.0.1'],
      ...['-c', `unix_socket_directories=${folder}`, '-c', 'max_connections=60'],
      ...['-c', `fsync=${synced ? 'on' : 'off'}`, '-c', 'shared_buffers=64MB'],
    ],
    { ...who, env, cwd: folder, stdio: ['ignore', 'ignore', 'pipe'] },
  );
  let said = '';
  server.stderr?.on('data', (part: Buffer) => {
    said = `${said}${part.toString('utf8')}`.slice(-4_000);
  });
  const ended = new Promise<void>((done) => server.once('exit', () => done()));
  const { default: pg } = await import('pg');
  const admin = `postgres://chargehand@127.0.0.1:${port}/postgres`;
  for (let tries = 0; ; tries += 1) {
    const client = new pg.Client({ connectionString: admin });
    try {
      await client.connect();
      await client.end();
      break;
    } catch {
      if (tries > 200 || server.exitCode !== null)
        throw new Error(`PostgreSQL did not start: ${said}`);
      await new Promise((done) => setTimeout(done, 50));
    }
  }
  return {
    database: async (name) => {
      const client = new pg.Client({ connectionString: admin });
      await client.connect();
      await client.query(`create database ${name}`);
      await client.end();
      return `postgres://chargehand@127.0.0.1:${port}/${name}`;
    },
    stop: async () => {
      server.kill('SIGINT');
      await ended;
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
