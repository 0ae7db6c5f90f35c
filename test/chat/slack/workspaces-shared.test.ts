// Several workspaces from two processes on one database: installed at one, served by both, taken out of both.
import { randomBytes } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startWorkspaces, type Workspaces } from '../../../src/cli/start-workspaces.ts';
import { openDatabase } from '../../../src/store/postgres/database.ts';
import {
  type Cluster,
  hasPostgres,
  startCluster,
  WITHOUT_POSTGRES,
} from '../../store/postgres/cluster.ts';
import {
  BOT_TOKEN,
  CLIENT_ID,
  CLIENT_SECRET,
  type FakeSlack,
  fakeSlack,
  SIGNING_SECRET,
} from './fake-slack.ts';
import { ROBIN } from './set-up-channel.ts';

const clock = (): string => new Date().toISOString();
const KEY = randomBytes(32);

describe.skipIf(!hasPostgres)(`workspaces of two processes ${WITHOUT_POSTGRES}`, () => {
  let cluster: Cluster;
  let url = '';
  let slack: FakeSlack;
  const both: Workspaces[] = [];
  const folders: string[] = [];
  beforeAll(async () => {
    cluster = await startCluster();
    url = await cluster.database('workspaces');
    slack = await fakeSlack({ clock, patience: 4_000 });
    slack.named(ROBIN, 'Robin');
    for (let n = 0; n < 2; n += 1) {
      const folder = await mkdtemp(join(tmpdir(), 'workspaces-shared-'));
      folders.push(folder);
      both.push(
        await startWorkspaces({
          folder,
          database: url,
          app: {
            clientId: CLIENT_ID,
            clientSecret: CLIENT_SECRET,
            signingSecret: SIGNING_SECRET,
            publicUrl: 'https://chargehand.example.org',
            keys: { current: KEY },
            port: 0,
            host: '127.0.0.1',
          },
          clock,
          log: () => undefined,
          clientOptions: { slackApiUrl: slack.url, timeout: 3_000 },
          paceSeconds: 0,
        }),
      );
    }
  }, 120_000);
  afterAll(async () => {
    for (const each of both) await each.stop();
    await slack?.close();
    await cluster?.stop();
    for (const folder of folders) await rm(folder, { recursive: true, force: true });
  }, 120_000);

  it('begin at one and finish at the other, serve by both, and end at both', async () => {
    const [one, two] = both as [Workspaces, Workspaces];
    const begun = await fetch(`${one.address}/slack/install`, { redirect: 'manual' });
    const state = new URL(begun.headers.get('location') ?? '').searchParams.get('state') ?? '';
    const cookie = (begun.headers.get('set-cookie') ?? '').split(';')[0] ?? '';
    const query = new URLSearchParams({ code: slack.agree(ROBIN), state });
    const finish = (at: Workspaces) =>
      fetch(`${at.address}/slack/oauth_redirect?${query}`, { headers: { cookie } });
    const finished = await finish(two);
    expect(finished.status, await finished.text()).toBe(200);
    // Once, wherever it is tried again.
    expect((await finish(one)).status).toBe(400);
    await expect.poll(() => one.started().size, { timeout: 20_000 }).toBe(1);
    expect([...one.started().keys()]).toEqual([...two.started().keys()]);

    // The token is in the database, and sealed there.
    const database = openDatabase(url);
    const [row] = await database.ask(
      "select body from chargehand.paper where name like 'installation:%'",
    );
    await database.close();
    expect(String(row?.body)).toContain('"iv"');
    expect(String(row?.body)).not.toContain(BOT_TOKEN);

    // What comes in at either is one workshop's.
    slack.deliverTo(one.address);
    await slack.post(ROBIN, slack.channel, 'open job 1042 bus 27 Renew the coolant pump');
    const jobsAt = async (at: Workspaces): Promise<readonly string[]> =>
      (await [...at.started().values()][0]?.running.floor.store.list())?.map(({ job }) => job) ??
      [];
    await expect.poll(() => jobsAt(two), { timeout: 20_000 }).toContain('1042');
    slack.deliverTo(two.address);
    await slack.post(ROBIN, slack.channel, 'open job 1043 bus 28 Renew the coolant pump');
    await expect.poll(() => jobsAt(one), { timeout: 20_000 }).toContain('1043');
    await slack.settled();
    expect(slack.twice()).toEqual([]);
    expect(slack.refused).toEqual([]);

    // Taken out at one, it is served by none.
    const again = openDatabase(url);
    await again.ask("delete from chargehand.paper where name like 'installation:%'");
    await again.close();
    for (const each of both)
      await expect.poll(() => each.started().size, { timeout: 30_000 }).toBe(0);
  }, 120_000);
});
