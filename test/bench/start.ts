// How long the whole program takes to start on 10,000 stored jobs, and how much memory it has then; beside it the same
// start on an empty folder, which is what loading the program costs.
import { spawn } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { BIN, quietEnv } from '../cli/run-command.ts';
import { ROOT } from '../layout/sources.ts';
import { at, thread } from '../store/sample.ts';
import { fillStore, jobName } from './fill.ts';

const JOBS = 10_000;
const OPEN_JOBS = 80;

export type StartBench = { readonly seconds: number; readonly megabytes: number };

const SETTINGS = `workshop: Harrow Lane depot (demonstration)
zone: Europe/London
people:
  - {name: Jo, roles: [technician]}
  - {name: Sam, roles: [controller]}
`;

const startOn = async (folder: string): Promise<StartBench> => {
  await writeFile(join(folder, 'settings.yaml'), SETTINGS);
  const begin = performance.now();
  const child = spawn(
    process.execPath,
    [BIN, 'start', '--port', '0', '--health-port', '0', '--data', folder],
    { cwd: folder, stdio: ['ignore', 'pipe', 'inherit'], env: quietEnv() },
  );
  try {
    let text = '';
    const address = await new Promise<string>((done, fail) => {
      child.stdout.on('data', (piece: Buffer) => {
        text += piece.toString();
        const found = /counters: (http:\S+\/health)/u.exec(text)?.[1];
        if (found) done(found);
      });
      child.once('exit', (code) => fail(new Error(`The program ended with ${code}.`)));
    });
    const seconds = (performance.now() - begin) / 1000;
    const health = (await (await fetch(address)).json()) as { readonly memoryBytes: number };
    return { seconds, megabytes: health.memoryBytes / 1e6 };
  } finally {
    child.kill('SIGKILL');
  }
};

export const run = async (): Promise<readonly StartBench[]> => {
  const top = await mkdtemp(join(tmpdir(), 'chargehand-start-'));
  try {
    const planText = await readFile(join(ROOT, 'data/plans/injectors-six-cylinder.yaml'), 'utf8');
    for (const name of ['empty', 'full']) mkdirSync(join(top, name));
    await fillStore(join(top, 'full', 'jobs'), {
      ...{ jobs: JOBS, open: OPEN_JOBS, messages: 40, planText, plan: 'injectors-six-cylinder' },
      readOf: (n) => ({
        ...{ id: `fill:${n}-read`, at: at(n), by: 'Jo', kind: 'message-read', message: `m${n}` },
        ...{ revision: 0, pass: 0, acts: [], relied: [] },
      }),
      threadOf: (n) => thread(jobName(n)),
    });
    const empty = await startOn(join(top, 'empty'));
    const full = await startOn(join(top, 'full'));
    const shown = ({ seconds, megabytes }: StartBench): string =>
      `${seconds.toFixed(2)} s, ${Math.round(megabytes)} MB`;
    console.log(`The whole program until it answers: on an empty folder ${shown(empty)};`);
    console.log(
      `on ${JOBS.toLocaleString('en')} stored jobs of 40 messages, ${OPEN_JOBS} of them open, ${shown(full)} (aims: 2 s, 200 MB).`,
    );
    return [empty, full];
  } finally {
    await rm(top, { recursive: true, force: true });
  }
};

if (process.argv[1] === import.meta.filename) await run();
