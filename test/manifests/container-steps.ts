// Runs the steps of the Containerfile as a script in a temporary folder, and what it starts: without the rights of root
// where there are such, with only the data folder to be written. `npm run check -- --only container`.
import { spawn, spawnSync } from 'node:child_process';
import {
  chmodSync,
  chownSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { quietEnv } from '../cli/run-command.ts';
import { ROOT } from '../layout/sources.ts';

export type Step = { readonly does: string; readonly words: string };

/** The steps in their order; a line that ends in a backslash goes on. */
export const stepsOf = (text: string): readonly Step[] =>
  text
    .replace(/\\\n/gu, ' ')
    .split('\n')
    .filter((line) => line.trim() !== '' && !line.startsWith('#'))
    .map((line) => {
      const [does = '', ...rest] = line.trim().split(/\s+/u);
      return { does, words: rest.join(' ') };
    });

export const containerSteps = (): readonly Step[] =>
  stepsOf(readFileSync(join(ROOT, 'manifests/container/Containerfile'), 'utf8'));

/** Not root, where this process is. */
const NOBODY = 65_534;
const isRoot = process.getuid?.() === 0;

const fail = (what: string): never => {
  throw new Error(what);
};

/** Absolute paths of the image lie in the temporary folder. */
const inside = (top: string, words: string): string =>
  words.replace(/(^|[\s=])\/(app|data)\b/gu, `$1${top}/$2`);

const runStep = (top: string, step: Step, env: NodeJS.ProcessEnv): NodeJS.ProcessEnv => {
  const app = join(top, 'app');
  switch (step.does) {
    case 'WORKDIR':
      mkdirSync(inside(top, step.words), { recursive: true });
      return env;
    case 'COPY': {
      const words = step.words.split(' ');
      const to = words.pop() ?? '';
      for (const from of words) {
        if (!existsSync(join(ROOT, from))) fail(`COPY names ${from}, which is not there.`);
        cpSync(join(ROOT, from), join(app, to === './' ? basename(from) : to), { recursive: true });
      }
      return env;
    }
    case 'RUN': {
      // Changing owners is for root; the folder is given away below.
      const words = inside(top, step.words).replace(/ && chown \S+ \S+/u, '');
      const ran = spawnSync('bash', ['-ec', words], { cwd: app, stdio: 'inherit', env });
      if (ran.status !== 0) fail(`The step "RUN ${step.words}" ended with ${ran.status}.`);
      return env;
    }
    case 'ENV':
      return {
        ...env,
        ...Object.fromEntries(
          inside(top, ` ${step.words}`)
            .trim()
            .split(' ')
            .map((each) => each.split('=')),
        ),
      };
    case 'FROM':
    case 'USER':
    case 'VOLUME':
    case 'STOPSIGNAL':
    case 'HEALTHCHECK':
    case 'CMD':
      return env;
    default:
      return fail(`There is a step "${step.does}", which this script does not know.`);
  }
};

const readOnly = (folder: string): void => {
  for (const each of readdirSync(folder, { withFileTypes: true, recursive: true }))
    if (!each.isSymbolicLink()) {
      const path = join(each.parentPath, each.name);
      chmodSync(path, (statSync(path).mode & 0o555) | 0o444);
    }
  chmodSync(folder, 0o555);
};

const answersHealth = async (address: string): Promise<boolean> => {
  const answer = await fetch(address).catch(() => undefined);
  return answer?.ok === true;
};

export const run = async (): Promise<void> => {
  const top = mkdtempSync(join(tmpdir(), 'container-'));
  const steps = containerSteps();
  // The image has a package cache of its own, which a step empties.
  let env: NodeJS.ProcessEnv = quietEnv({ npm_config_cache: join(top, 'cache') });
  try {
    for (const step of steps) env = runStep(top, step, env);
    const data = join(top, 'data');
    const scratch = join(top, 'tmp');
    mkdirSync(scratch);
    readOnly(join(top, 'app'));
    if (isRoot) for (const folder of [data, scratch]) chownSync(folder, NOBODY, NOBODY);
    chmodSync(top, 0o755);
    const [command = '', ...args] = JSON.parse(
      steps.find(({ does }) => does === 'CMD')?.words ?? '[]',
    ) as string[];
    // Any free ports, so that nothing else is in the way.
    const free = args.map((arg) => (/^71\d\d$/u.test(arg) ? '0' : arg));
    const child = spawn(command, free, {
      cwd: join(top, 'app'),
      env: { ...env, TMPDIR: scratch, HOME: scratch },
      ...(isRoot ? { uid: NOBODY, gid: NOBODY } : {}),
    });
    let printed = '';
    for (const stream of [child.stdout, child.stderr])
      stream.on('data', (piece: Buffer) => {
        printed += piece.toString();
      });
    const ended = new Promise<number | null>((done) => child.once('exit', (code) => done(code)));
    const began = Date.now();
    while (!printed.includes('/metrics') && child.exitCode === null) {
      if (Date.now() - began > 60_000) fail(`It does not start: ${printed}`);
      await new Promise((done) => setTimeout(done, 100));
    }
    const health = /Health and counters: (\S+)/u.exec(printed)?.[1];
    if (health === undefined || !(await answersHealth(health)))
      fail(`The health does not answer: ${printed}`);
    child.kill('SIGTERM');
    const code = await ended;
    if (code !== 0) fail(`It ended with ${code} when asked to stop: ${printed}`);
    if (!existsSync(join(data, 'settings.yaml'))) fail('The data folder was not written.');
    console.log(
      `The ${steps.length} steps of the Containerfile ran; the program started${isRoot ? ' without the rights of root' : ''}, answered under /health, and stopped when asked.`,
    );
  } finally {
    spawnSync('chmod', ['-R', 'u+w', top]);
    rmSync(top, { recursive: true, force: true });
  }
};

if (process.argv[1] === import.meta.filename) await run();
