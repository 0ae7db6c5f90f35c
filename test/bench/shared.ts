// The store that many processes share: messages a second and the time to the acknowledgement with one, two and three bot
// processes, and what a message costs at 1,000, 100,000 and 1,000,000 stored jobs, beside a bare synced write of the
// database in the same run. `npm run bench -- shared`; with CHARGEHAND_WHOLE=1 up to a million jobs.
import { createHmac } from 'node:crypto';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { stringify } from 'yaml';
import { laneOf } from '../../src/store/job-store.ts';
import { openDatabase } from '../../src/store/postgres/database.ts';
import { type PostgresStore, postgresStore } from '../../src/store/postgres/postgres-store.ts';
import { BOT_TOKEN, SIGNING_SECRET } from '../chat/slack/fake-slack.ts';
import { type BotProcess, botProcess } from '../floor/many/process.ts';
import {
  type Cluster,
  hasPostgres,
  startCluster,
  WITHOUT_POSTGRES,
} from '../store/postgres/cluster.ts';
import { at, delivery, indexOf, jobOpened, posted, thread } from '../store/sample.ts';
import { spread } from './spread.ts';

const WHOLE = process.env.CHARGEHAND_WHOLE === '1';
const COUNTS = WHOLE ? [1_000, 100_000, 1_000_000] : [1_000, 20_000];
const MESSAGES = WHOLE ? 1_500 : 300;
const THREADS = 40;
const AT_ONCE = 8;
const MEASURED = WHOLE ? 1_000 : 200;
const WAITING = 400;
const CHANNEL = 'C0SHOP01';
const WORKSHOP = 'Harrow Lane depot';
const TEXTS = ['have a look at it', 'tea break', 'cowl is heavy', 'battery isolated', 'what next'];

const clock = (): string => new Date().toISOString();
const pause = (milliseconds: number): Promise<void> =>
  new Promise((done) => setTimeout(done, milliseconds));
const shown = ({ median, p99 }: { readonly median: number; readonly p99: number }): string =>
  `median ${median.toFixed(2)} ms, p99 ${p99.toFixed(2)} ms`;

/** Answers every call of the Web API at once: only the bot and the database are measured. */
const quickSlack = async () => {
  let ts = 1_772_000_000;
  const server = createServer((request, response) => {
    request.resume();
    request.on('end', () => {
      ts += 1;
      response.writeHead(200, { 'content-type': 'application/json' });
      response.end(
        JSON.stringify({
          ok: true,
          ts: `${ts}.000100`,
          channel: CHANNEL,
          team_id: 'T0DEPOT1',
          user_id: 'U0BOT001',
          bot_id: 'B0BOT001',
          messages: [],
        }),
      );
    });
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/api/`,
    close: () => {
      server.closeAllConnections();
      server.close();
    },
  };
};

/** @returns milliseconds until it is acknowledged */
const say = async (
  address: string,
  n: number,
  user: string,
  text: string,
  thread?: string,
): Promise<number> => {
  const now = Math.floor(Date.now() / 1000);
  const body = JSON.stringify({
    type: 'event_callback',
    team_id: 'T0DEPOT1',
    event_id: `Ev${n}`,
    event: {
      type: 'message',
      user,
      channel: CHANNEL,
      channel_type: 'channel',
      ts: `${1_772_100_000 + n}.000100`,
      ...(thread ? { thread_ts: thread } : {}),
      text,
    },
  });
  const signature = createHmac('sha256', SIGNING_SECRET).update(`v0:${now}:${body}`).digest('hex');
  const begun = performance.now();
  const answer = await fetch(`${address}/slack/events`, {
    method: 'POST',
    body,
    headers: {
      'content-type': 'application/json',
      'x-slack-request-timestamp': String(now),
      'x-slack-signature': `v0=${signature}`,
    },
  });
  await answer.arrayBuffer();
  if (!answer.ok) throw new Error(`answered ${answer.status}`);
  return performance.now() - begun;
};

const settled = async (store: PostgresStore): Promise<void> => {
  for (let looks = 0; looks < 6_000; looks += 1) {
    if ((await store.waiting()).length === 0 && (await store.outbox()).length === 0) return;
    await pause(50);
  }
  throw new Error('It did not come to rest.');
};

/** Opens the jobs that the messages go to, as people do; their threads. */
const openThreads = async (store: PostgresStore, address: string): Promise<readonly string[]> => {
  for (let n = 0; n < THREADS; n += 1)
    await say(
      address,
      800_000 + n,
      'U0ROBIN01',
      `open job ${4000 + n} bus ${n} Renew the coolant pump tech Ada`,
    );
  await settled(store);
  const threads = (await store.list()).flatMap((entry) =>
    entry.threads.map(({ thread }) => thread),
  );
  if (threads.length !== THREADS) throw new Error(`${threads.length} threads were opened.`);
  return threads;
};

const processesBench = async (cluster: Cluster, count: number): Promise<void> => {
  const url = await cluster.database(`processes_${count}`);
  const slack = await quickSlack();
  const folder = await mkdtemp(join(tmpdir(), 'chargehand-shared-'));
  await writeFile(
    join(folder, 'settings.yaml'),
    stringify({
      workshop: WORKSHOP,
      zone: 'Europe/London',
      people: [
        { name: 'Ada', roles: ['technician'], slack: 'U0ADA0001' },
        { name: 'Robin', roles: ['controller'], slack: 'U0ROBIN01' },
      ],
      slack: { channel: CHANNEL },
    }),
  );
  const store = postgresStore({ url, workshop: WORKSHOP, clock });
  await store.open();
  const running: BotProcess[] = [];
  try {
    for (let n = 0; n < count; n += 1)
      running.push(
        await botProcess(folder, {
          CHARGEHAND_DATABASE: url,
          SLACK_MODE: 'http',
          SLACK_BOT_TOKEN: BOT_TOKEN,
          SLACK_SIGNING_SECRET: SIGNING_SECRET,
          SLACK_API_URL: slack.url,
        }),
      );
    const threads = await openThreads(store, running[0]?.address ?? '');
    const write = (n: number): Promise<number> =>
      say(
        running[n % count]?.address ?? '',
        n,
        'U0ADA0001',
        `${TEXTS[n % TEXTS.length]}`,
        threads[n % threads.length],
      );
    for (let n = 0; n < 60; n += 1) await write(900_000 + n);
    await settled(store);
    const times: number[] = [];
    let next = 0;
    const begun = performance.now();
    await Promise.all(
      Array.from({ length: AT_ONCE }, async () => {
        while (next < MESSAGES) {
          const n = next;
          next += 1;
          times.push(await write(n));
        }
      }),
    );
    const acknowledged = performance.now() - begun;
    for (let looks = 0; (await store.waiting()).length > 0 && looks < 3_000; looks += 1)
      await pause(20);
    const recorded = performance.now() - begun;
    console.log(
      `${count} process${count > 1 ? 'es' : ''}: acknowledged ${Math.round((MESSAGES / acknowledged) * 1000)} a second (${shown(spread(times))}), recorded ${Math.round((MESSAGES / recorded) * 1000)} a second`,
    );
  } finally {
    for (const each of running) await each.stop();
    await store.close();
    slack.close();
    await rm(folder, { recursive: true, force: true });
  }
};

/** Copies one finished job until there are `jobs` of them, within the database. */
const fillTo = async (url: string, jobs: number): Promise<void> => {
  const database = openDatabase(url);
  await database.together(async (ask) => {
    await ask('set local statement_timeout = 0');
    const [row] = await ask('select count(*) as n from chargehand.job');
    const there = Number(row?.n ?? 0) - 1;
    const range = [there + 1, jobs];
    await ask(
      `insert into chargehand.job
       select workshop, 'old-' || g, 1000000 + g, rev, version, 'closed', replace(summary, '"0"', '"old-' || g || '"'),
         '[]', posts, changed_at - interval '30 days'
       from chargehand.job, generate_series($1::integer, $2::integer) g where job = '0'`,
      range,
    );
    await ask(
      `insert into chargehand.job_event
       select workshop, 'old-' || g, n, body
       from chargehand.job_event, generate_series($1::integer, $2::integer) g where job = '0'`,
      range,
    );
  });
  await database.ask('analyze chargehand.job');
  await database.ask('analyze chargehand.job_event');
  await database.close();
};

const storedBench = async (cluster: Cluster): Promise<void> => {
  const url = await cluster.database('stored');
  const store = postgresStore({ url, workshop: WORKSHOP, clock });
  await store.open();
  await store.append({
    job: '0',
    expected: 0,
    events: [jobOpened('0'), ...Array.from({ length: 5 }, (_, n) => posted(n))],
    index: { ...indexOf('0'), status: 'closed' },
    threads: [thread('0')],
  });
  for (let n = 0; n < THREADS; n += 1) {
    const job = String(4000 + n);
    await store.append({ job, expected: 0, events: [jobOpened(job)], index: indexOf(job) });
  }
  const bare = openDatabase(url);
  await bare.ask('create table bare (n integer, body text)');
  const versions = new Map<string, number>();
  let serial = 0;
  for (const jobs of COUNTS) {
    await fillTo(url, jobs);
    const accepts: number[] = [];
    const appends: number[] = [];
    const bares: number[] = [];
    for (let n = 0; n < MEASURED + 50; n += 1) {
      serial += 1;
      const job = String(4000 + (n % THREADS));
      const expected = versions.get(job) ?? 1;
      const begun = performance.now();
      await store.accept(delivery(`s-${serial}`), at(serial));
      const accepted = performance.now();
      const done = await store.append({
        job,
        expected,
        events: [posted(`s-${serial}`)],
        index: indexOf(job),
        settles: `bench:s-${serial}`,
      });
      const appended = performance.now();
      await bare.ask('insert into bare values ($1, $2)', [n, JSON.stringify(delivery(serial))]);
      const written = performance.now();
      if (done.ok) versions.set(job, done.version);
      if (n < 50) continue;
      accepts.push(accepted - begun);
      appends.push(appended - accepted);
      bares.push(written - appended);
    }
    const [size] = await bare.ask(
      `select sum(pg_total_relation_size(c.oid)) as bytes from pg_class c
       join pg_namespace s on s.oid = c.relnamespace where s.nspname = 'chargehand' and c.relkind = 'r'`,
    );
    console.log(
      `${jobs.toLocaleString('en-GB')} stored jobs: kept ${shown(spread(accepts))}; recorded ${shown(spread(appends))}; a bare synced insert ${shown(spread(bares))}; ${(Number(size?.bytes ?? 0) / jobs / 1000).toFixed(1)} kB a job of six events`,
    );
  }
  await bare.close();
  await waitingBench(store);
  await store.close();
};

/** What a process asks again and again: what waits, in the whole workshop and in one thread of it, side by side. */
const waitingBench = async (store: PostgresStore): Promise<void> => {
  for (let n = 0; n < WAITING; n += 1)
    await store.accept({ ...delivery(`w-${n}`), thread: `t-${n % THREADS}` }, at(n));
  const lane = laneOf({ ...delivery('w-0'), thread: 't-0' });
  const all: number[] = [];
  const one: number[] = [];
  for (let n = 0; n < MEASURED; n += 1) {
    const begun = performance.now();
    await store.waiting();
    const half = performance.now();
    await store.shared.waitingIn(lane);
    one.push(performance.now() - half);
    all.push(half - begun);
  }
  console.log(
    `${WAITING} deliveries waiting in ${THREADS} threads: asked for in the workshop ${shown(spread(all))}; in one thread ${shown(spread(one))}`,
  );
};

export const run = async (): Promise<void> => {
  if (!hasPostgres) return console.log(`The shared store ${WITHOUT_POSTGRES}`);
  const cluster = await startCluster(true);
  try {
    for (const count of [1, 2, 3]) await processesBench(cluster, count);
    await storedBench(cluster);
  } finally {
    await cluster.stop();
  }
};
