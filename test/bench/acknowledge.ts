// From a signed webhook to its acknowledgement, by the whole program with 1,000 open jobs at 50 messages a second. Beside it
// in the same run: an empty Bolt app, and one synced write of the same size, turn by turn, so that all meet the same machine.
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { mkdtemp, open, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import type { JobEvent } from '../../shared/event.ts';
import { signatureOf } from '../../src/chat/slack/signature.ts';
import { BIN, quietEnv } from '../cli/run-command.ts';
import { ROOT } from '../layout/sources.ts';
import { randomFrom } from '../store/random.ts';
import { at } from '../store/sample.ts';
import { fillStore } from './fill.ts';
import { type Spread, spread } from './spread.ts';

const OPEN_JOBS = 1_000;
const MESSAGES_A_JOB = 10;
const PER_SECOND = 50;
const HOURS_AGO = 2;
const TURNS = Number(process.env.CHARGEHAND_BENCH_TURNS ?? 5);
/** Messages of one turn: four seconds of them. */
const A_TURN = 200;
const SECRET = 'bench-signing-secret-0123456789ab';
const TEXTS = [
  ...['battery isolated', 'wheels chocked, parking brake on', 'cyl 3 injector out', 'what next'],
  ...['rocker cover off', 'fuel lines off, ends capped', 'tea break', 'drained 28 L', 'on it'],
];

export type AckBench = {
  readonly ours: Spread;
  readonly bolt: Spread;
  readonly write: Spread;
  /** How many were not acknowledged; has to be 0. */
  readonly refused: number;
  /** Seconds from the start of the program until it answers, and its memory at the end. */
  readonly startSeconds: number;
  readonly megabytes: number;
  /** Milliseconds of processor time the program spends on a message, all that follows from it included. */
  readonly processorMs: number;
};

/** The platform's Web API: takes everything. */
const platform = async (): Promise<Server> => {
  let number = 0;
  const server = createServer((request, response) => {
    request.resume();
    request.on('end', () => {
      number += 1;
      const answer = {
        ok: true,
        ts: `1772450000.${String(number).padStart(6, '0')}`,
        channel: 'C1',
      };
      const who = { team_id: 'T1', user_id: 'U9', bot_id: 'B1', messages: [] };
      response
        .writeHead(200, { 'content-type': 'application/json' })
        .end(JSON.stringify({ ...answer, ...who }));
    });
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  return server;
};
const portOf = (server: Server): number => (server.address() as AddressInfo).port;

const freePort = async (): Promise<number> => {
  const server = await platform();
  const port = portOf(server);
  await new Promise((done) => server.close(done));
  return port;
};

const printed = (child: ChildProcess, pattern: RegExp): Promise<string> =>
  new Promise((done, fail) => {
    let text = '';
    child.stdout?.on('data', (piece: Buffer) => {
      text += piece.toString();
      const found = pattern.exec(text);
      if (found) done(found[1] ?? '');
    });
    child.once('exit', (code) => fail(new Error(`A process of the bench ended with ${code}.`)));
  });

const threadTs = (n: number): string => `17724${String(n).padStart(5, '0')}.000100`;
const readOf = (n: number): JobEvent => ({
  ...{ id: `fill:${n}-read`, at: at(n), by: 'Jo', kind: 'message-read', message: `m${n}` },
  ...{ revision: 0, pass: 0, acts: [], relied: [] },
});

/** A message posted now, as the platform tells of it. */
const bodyOf = (n: number, job: number): string => {
  const second = Math.floor(Date.now() / 1000);
  return JSON.stringify({
    ...{ type: 'event_callback', team_id: 'T1', event_id: `Ev${n}`, event_time: second },
    event: {
      ...{ type: 'message', user: 'U0JO', channel: 'C1', thread_ts: threadTs(job) },
      ts: `${second}.${String(n).padStart(6, '0')}`,
      text: TEXTS[n % TEXTS.length],
    },
  });
};

/** Seconds of processor time a process has used, by /proc; NaN where there is none. */
const processorSeconds = async (pid: number | undefined): Promise<number> => {
  const text = await readFile(`/proc/${pid}/stat`, 'utf8').catch(() => '');
  const fields = text.slice(text.lastIndexOf(')') + 2).split(' ');
  // Fields 14 and 15 of proc(5), in ticks of a hundredth of a second.
  return (Number(fields[11]) + Number(fields[12])) / 100;
};

type HealthNow = {
  readonly memoryBytes: number;
  readonly inbox: number;
  readonly channels: readonly { readonly waiting: number }[];
};
const healthOf = async (address: string): Promise<HealthNow> =>
  (await (await fetch(new URL('health', address))).json()) as HealthNow;

/** Waits until nothing is to be worked off or posted, for two minutes at most. */
const rests = async (address: string): Promise<void> => {
  for (let looks = 0, quiet = 0; looks < 240 && quiet < 4; looks += 1) {
    await new Promise((done) => setTimeout(done, 500));
    const now = await healthOf(address);
    quiet = now.inbox === 0 && now.channels.every(({ waiting }) => waiting === 0) ? quiet + 1 : 0;
  }
};

/** Sends at the given rate, whether or not the earlier ones are answered. */
const turn = async (
  each: (n: number) => Promise<void>,
  from: number,
  into: number[],
): Promise<void> => {
  const begin = performance.now();
  const work: Promise<void>[] = [];
  for (let i = 0; i < A_TURN; i += 1) {
    const due = begin + (i * 1000) / PER_SECOND;
    const wait = due - performance.now();
    if (wait > 0) await new Promise((done) => setTimeout(done, wait));
    const sent = performance.now();
    work.push(each(from + i).then(() => void into.push(performance.now() - sent)));
  }
  await Promise.all(work);
};

const SETTINGS = `workshop: Harrow Lane depot (demonstration)
zone: Europe/London
people:
  - {name: Jo, roles: [technician], slack: U0JO}
  - {name: Sam, roles: [controller], slack: U0SAM}
slack: {channel: C1}
`;

export const measure = async (): Promise<AckBench> => {
  const folder = await mkdtemp(join(tmpdir(), 'chargehand-ack-'));
  const api = await platform();
  const children: ChildProcess[] = [];
  try {
    const planText = await readFile(join(ROOT, 'data/plans/injectors-six-cylinder.yaml'), 'utf8');
    mkdirSync(join(folder, 'jobs'), { recursive: true });
    await writeFile(join(folder, 'settings.yaml'), SETTINGS);
    await fillStore(join(folder, 'jobs'), {
      ...{ jobs: OPEN_JOBS, open: OPEN_JOBS, messages: MESSAGES_A_JOB, planText, readOf },
      plan: 'injectors-six-cylinder',
      threadOf: (n) => ({ channel: 'slack', team: 'T1', place: 'C1', thread: threadTs(n) }),
      // Opened this shift, with their job sheets posted, as those of a workshop in its day are.
      begin: Date.now() - HOURS_AGO * 3_600_000,
      postsOf: (n) => [
        {
          ...{ key: 'sheet', channel: 'slack', team: 'T1', place: 'C1' },
          message: threadTs(n),
        },
      ],
    });
    const slackPort = await freePort();
    const begin = performance.now();
    const ours = spawn(
      process.execPath,
      [BIN, 'start', '--port', '0', '--health-port', '0', '--data', folder],
      {
        cwd: folder,
        stdio: ['ignore', 'pipe', 'inherit'],
        env: quietEnv({
          ...{ SLACK_BOT_TOKEN: 'xoxb-bench', SLACK_SIGNING_SECRET: SECRET, SLACK_MODE: 'http' },
          ...{
            SLACK_PORT: String(slackPort),
            SLACK_API_URL: `http://127.0.0.1:${portOf(api)}/api/`,
          },
        }),
      },
    );
    children.push(ours);
    const health = await printed(ours, /counters: (http:\S+\/)health/u);
    const startSeconds = (performance.now() - begin) / 1000;
    const peer = spawn(
      process.execPath,
      ['--import', 'tsx', join(import.meta.dirname, 'bolt-child.ts'), SECRET],
      { cwd: ROOT, stdio: ['ignore', 'pipe', 'inherit'] },
    );
    children.push(peer);
    const peerPort = await printed(peer, /(\d+)\n/u);
    const random = randomFrom(50);
    let refused = 0;
    const post =
      (port: number | string) =>
      async (n: number): Promise<void> => {
        const body = bodyOf(n, Math.floor(random() * OPEN_JOBS));
        const timestamp = String(Math.floor(Date.now() / 1000));
        const answer = await fetch(`http://127.0.0.1:${port}/slack/events`, {
          method: 'POST',
          body,
          headers: {
            'content-type': 'application/json',
            'x-slack-request-timestamp': timestamp,
            'x-slack-signature': signatureOf(SECRET, timestamp, body),
          },
        });
        await answer.arrayBuffer();
        if (answer.status !== 200) refused += 1;
      };
    const file = await open(join(folder, 'peer.jsonl'), 'a');
    const line = async (n: number): Promise<void> => {
      await file.write(`${bodyOf(n, n % OPEN_JOBS)}\n`);
      await file.datasync();
    };
    const times = { ours: [] as number[], bolt: [] as number[], write: [] as number[] };
    // The first look at all open jobs is over and posted, and both processes are warm.
    await rests(health);
    const warm: number[] = [];
    await turn(post(slackPort), 900_000, warm);
    await turn(post(peerPort), 900_000, warm);
    let busy = 0;
    await rests(health);
    for (let t = 0; t < TURNS; t += 1) {
      const before = await processorSeconds(ours.pid);
      await turn(post(slackPort), t * A_TURN, times.ours);
      await turn(post(peerPort), t * A_TURN, times.bolt);
      await turn(line, t * A_TURN, times.write);
      busy += (await processorSeconds(ours.pid)) - before;
    }
    await file.close();
    const now = await healthOf(health);
    return {
      ours: spread(times.ours),
      bolt: spread(times.bolt),
      write: spread(times.write),
      ...{ refused, startSeconds, megabytes: now.memoryBytes / 1e6 },
      processorMs: (1000 * busy) / (TURNS * A_TURN),
    };
  } finally {
    for (const child of children) child.kill('SIGKILL');
    api.closeAllConnections();
    api.close();
    await rm(folder, { recursive: true, force: true });
  }
};

const shown = ({ median, p99 }: Spread): string =>
  `${median.toFixed(2).padStart(8)}${p99.toFixed(2).padStart(9)}`;

export const run = async (): Promise<AckBench> => {
  const made = await measure();
  const sum = {
    median: made.bolt.median + made.write.median,
    p99: made.bolt.p99 + made.write.p99,
  };
  console.log(
    `From a signed webhook to its acknowledgement, ${TURNS * A_TURN} messages at ${PER_SECOND} a second, ${OPEN_JOBS} open jobs; the peers turn by turn with it. Milliseconds:`,
  );
  console.log('                          median      p99');
  console.log(`the whole program       ${shown(made.ours)}`);
  console.log(`an empty Bolt app       ${shown(made.bolt)}`);
  console.log(`one synced write        ${shown(made.write)}`);
  console.log(`both peers together     ${shown(sum)}`);
  console.log(
    `It takes ${(made.ours.median / sum.median).toFixed(2)} times that at the median and ${(made.ours.p99 / sum.p99).toFixed(2)} times at p99 (aims: 2 and 5); not acknowledged: ${made.refused}.`,
  );
  console.log(
    `Processor time for a message, with all that follows from it: ${made.processorMs.toFixed(1)} ms, so ${PER_SECOND} a second keep a core busy for ${((PER_SECOND * made.processorMs) / 10).toFixed(0)} %.`,
  );
  console.log(
    `Started in ${made.startSeconds.toFixed(1)} s; ${Math.round(made.megabytes)} MB in use at the end.`,
  );
  console.log(
    `The limit is one synced append, which no acknowledgement may come before: ${made.write.median.toFixed(2)} ms here; the program's median is ${(made.ours.median / made.write.median).toFixed(1)} times that.`,
  );
  return made;
};

if (process.argv[1] === import.meta.filename) await run();
