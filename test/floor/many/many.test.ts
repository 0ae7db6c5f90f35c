// Three bot processes on one database, behind a balancer, against the stand-in for Slack; one of them is killed again and
// again. Nothing is lost, nothing is there twice, and each thread's messages are recorded in their order.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import type { JobEvent } from '../../../shared/event.ts';
import { type PostgresStore, postgresStore } from '../../../src/store/postgres/postgres-store.ts';
import {
  BOT_TOKEN,
  type FakeSlack,
  fakeSlack,
  SIGNING_SECRET,
} from '../../chat/slack/fake-slack.ts';
import {
  type Cluster,
  hasPostgres,
  startCluster,
  WITHOUT_POSTGRES,
} from '../../store/postgres/cluster.ts';
import { type Balancer, balancer } from './balancer.ts';
import { type BotProcess, botProcess } from './process.ts';

const WHOLE = process.env.CHARGEHAND_WHOLE === '1';
const JOBS = WHOLE ? 6 : 2;
const ROUNDS = WHOLE ? 60 : 10;
const KILLS = WHOLE ? 10 : 2;
const ADA = 'U0ADA0001';
const ROBIN = 'U0ROBIN01';
const clock = (): string => new Date().toISOString();
const pause = (milliseconds: number): Promise<void> =>
  new Promise((done) => setTimeout(done, milliseconds));

const settings = (channel: string): string =>
  stringify({
    workshop: 'Harrow Lane depot',
    zone: 'Europe/London',
    people: [
      { name: 'Ada', roles: ['technician'], slack: ADA },
      { name: 'Robin', roles: ['controller'], slack: ROBIN },
    ],
    slack: { channel },
  });

/** Words that are no report: what is proved is that each is kept once and in order, not how it is read. */
const words = (job: number, round: number): string =>
  `line ${round} of vehicle ${job}, have a look at it`;

const postedTexts = (events: readonly { readonly event: JobEvent }[]): readonly string[] =>
  events.flatMap(({ event }) =>
    event.kind === 'message-posted' && event.text?.startsWith('line ') ? [event.text] : [],
  );

describe.skipIf(!hasPostgres)(`many processes on one database ${WITHOUT_POSTGRES}`, () => {
  let cluster: Cluster;
  let fake: FakeSlack;
  let front: Balancer;
  let folder = '';
  let url = '';
  let store: PostgresStore;
  const running: BotProcess[] = [];

  const begin = async (): Promise<void> => {
    const made = await botProcess(folder, {
      CHARGEHAND_DATABASE: url,
      SLACK_MODE: 'http',
      SLACK_BOT_TOKEN: BOT_TOKEN,
      SLACK_SIGNING_SECRET: SIGNING_SECRET,
      SLACK_API_URL: fake.url,
    });
    running.push(made);
    front.add(made.address);
  };

  beforeAll(async () => {
    cluster = await startCluster();
    url = await cluster.database('many');
    fake = await fakeSlack({ clock });
    front = await balancer();
    fake.deliverTo(front.address);
    folder = await mkdtemp(join(tmpdir(), 'chargehand-many-'));
    await writeFile(join(folder, 'settings.yaml'), settings(fake.channel));
    store = postgresStore({ url, workshop: 'Harrow Lane depot', clock });
    await store.open();
    await Promise.all([begin(), begin(), begin()]);
  }, 180_000);

  afterAll(async () => {
    await Promise.all(running.map((each) => each.stop()));
    await store?.close();
    await front?.close();
    await fake?.close();
    await cluster?.stop();
    if (folder !== '') await rm(folder, { recursive: true, force: true });
  }, 120_000);

  /** Waits until nothing is left to be worked off or posted, in a bounded number of looks. */
  const calm = async (): Promise<void> => {
    for (let looks = 0; looks < 900; looks += 1) {
      await pause(100);
      if ((await store.waiting()).length > 0 || (await store.outbox()).length > 0) continue;
      if (!fake.isBusy()) return;
    }
    const left = [await store.waiting(), await store.outbox()].map((list) => list.length);
    throw new Error(`It did not come to rest: ${left.join(' waiting, ')} to be posted.`);
  };

  it(`keeps order and count over ${KILLS} kills`, async () => {
    for (let job = 1; job <= JOBS; job += 1)
      await fake.post(
        ROBIN,
        fake.channel,
        `open job ${2000 + job} bus ${job} Renew the coolant pump tech Ada`,
      );
    await calm();
    const threads = new Map<number, string>();
    for (let job = 1; job <= JOBS; job += 1) {
      const thread = (await store.load(String(2000 + job)))?.threads[0]?.thread;
      expect(thread, `job ${2000 + job} has a thread`).toBeDefined();
      threads.set(job, thread ?? '');
    }
    expect(threads.size).toBe(JOBS);

    // In each thread people write one message after the other; the threads go on side by side, whoever dies.
    let written = 0;
    const writing = Promise.all(
      [...threads].map(async ([job, thread]) => {
        for (let round = 1; round <= ROUNDS; round += 1) {
          await fake.post(ADA, fake.channel, words(job, round), { thread });
          written += 1;
        }
      }),
    );
    let kills = 0;
    while (kills < KILLS) {
      while (written < ((kills + 1) * ROUNDS * JOBS) / (KILLS + 1)) await pause(20);
      // Whoever holds the leases is as likely as any: the one that has run longest goes.
      const gone = running.shift();
      if (!gone) break;
      const killed = gone.kill();
      front.remove(gone.address);
      await killed;
      kills += 1;
      await begin();
    }
    await writing;
    await calm();
    expect(kills).toBe(KILLS);

    for (let job = 1; job <= JOBS; job += 1) {
      const texts = postedTexts((await store.load(String(2000 + job)))?.events ?? []);
      expect(texts).toEqual(Array.from({ length: ROUNDS }, (_, n) => words(job, n + 1)));
      expect(await store.verify(String(2000 + job))).toMatchObject({ good: true });
    }
    expect(fake.twice()).toEqual([]);
    expect(fake.givenUp).toEqual([]);
    expect(fake.refused).toEqual([]);
    // All of them had a part in it.
    expect([...front.answered.values()].filter((count) => count > 0).length).toBeGreaterThan(2);
  }, 600_000);
});
