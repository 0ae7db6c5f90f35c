// Two workspaces from one process: each installs from a browser, each has its own jobs, and neither sees the other's.
import { randomBytes } from 'node:crypto';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { AppSettings } from '../../../src/chat/slack/app-settings.ts';
import { startWorkspaces, type Workspaces } from '../../../src/cli/start-workspaces.ts';
import {
  BOT_TOKEN,
  CLIENT_ID,
  CLIENT_SECRET,
  type FakeSlack,
  fakeSlack,
  SIGNING_SECRET,
} from './fake-slack.ts';
import { ADA, type LogLine, ROBIN, stillClock, until } from './set-up-channel.ts';

const time = stillClock();
const YARD_TOKEN = 'xoxb-fake-yard';
let folder = '';
let depot: FakeSlack;
let yard: FakeSlack;
let workspaces: Workspaces;
let log: LogLine[] = [];

/** One address of the platform for both: the token, or the code, says which workspace is meant. */
const platform: typeof globalThis.fetch = (input, init) => {
  const address = new URL(String(input));
  const headers = new Headers(init?.headers);
  const said = `${headers.get('authorization')} ${String(init?.body ?? '')}`;
  const ofYard = said.includes(YARD_TOKEN) || said.includes('YARD');
  const target = new URL(ofYard ? yard.url : depot.url);
  address.host = target.host;
  return fetch(address, init);
};

const app = (more: Partial<AppSettings> = {}): AppSettings => ({
  clientId: CLIENT_ID,
  clientSecret: CLIENT_SECRET,
  signingSecret: SIGNING_SECRET,
  publicUrl: 'https://chargehand.example.org',
  keys: { current: KEY },
  port: 0,
  host: '127.0.0.1',
  ...more,
});
const KEY = randomBytes(32);

const start = async (more: Partial<AppSettings> = {}): Promise<void> => {
  workspaces = await startWorkspaces({
    folder,
    app: app(more),
    clock: time.now,
    log: (...line) => log.push(line),
    clientOptions: { slackApiUrl: depot.url, timeout: 3_000, fetch: platform },
    paceSeconds: 0,
  });
  for (const fake of [depot, yard]) fake.deliverTo(workspaces.address);
};

beforeEach(async () => {
  log = [];
  folder = await mkdtemp(join(tmpdir(), 'workspaces-'));
  depot = await fakeSlack({ clock: time.now, patience: 4_000 });
  yard = await fakeSlack({ clock: time.now, patience: 4_000, team: 'T0YARD01', token: YARD_TOKEN });
  for (const fake of [depot, yard]) fake.named(ROBIN, 'Robin');
  await start();
}, 60_000);
afterEach(async () => {
  await workspaces.stop();
  expect([...depot.refused, ...yard.refused]).toEqual([]);
  await depot.close();
  await yard.close();
  await rm(folder, { recursive: true });
}, 60_000);

const begin = async () => {
  const response = await fetch(`${workspaces.address}/slack/install`, { redirect: 'manual' });
  const to = new URL(response.headers.get('location') ?? '');
  return { to, cookie: (response.headers.get('set-cookie') ?? '').split(';')[0] ?? '' };
};
const finish = (query: Record<string, string>, cookie: string): Promise<Response> =>
  fetch(`${workspaces.address}/slack/oauth_redirect?${new URLSearchParams(query)}`, {
    headers: { cookie },
  });
const install = async (fake: FakeSlack): Promise<Response> => {
  const { to, cookie } = await begin();
  // The stand-in of the yard is told by the word in its code.
  const code = fake === yard ? fake.agree(ROBIN, 'YARD') : fake.agree(ROBIN);
  return finish({ code, state: to.searchParams.get('state') ?? '' }, cookie);
};
const calm = async (): Promise<void> => {
  await depot.settled();
  await yard.settled();
  for (const { running } of workspaces.started().values())
    for (let look = 0; look < 300; look += 1) {
      await running.idle();
      if (running.backlog() === 0) break;
      await new Promise((done) => setTimeout(done, 5));
    }
};
const say = async (fake: FakeSlack, user: string, text: string, thread?: string) => {
  const ts = await fake.post(user, fake.channel, text, thread ?? {});
  await calm();
  return ts;
};
const all = (fake: FakeSlack): string => JSON.stringify(fake.calls.map(({ args }) => args));

describe('several workspaces', () => {
  it('install from a browser, and are started again with the next start', async () => {
    const { to } = await begin();
    expect(`${to.origin}${to.pathname}`).toBe('https://slack.com/oauth/v2/authorize');
    expect(to.searchParams.get('redirect_uri')).toBe(
      'https://chargehand.example.org/slack/oauth_redirect',
    );
    expect(to.searchParams.get('scope')?.split(',')).toContain('chat:write');
    const answer = await install(depot);
    expect(answer.status).toBe(200);
    expect(await answer.text()).toContain('Chargehand is in the workspace Depot T0DEPOT1.');
    const settings = await readFile(join(folder, 'workspaces/T0DEPOT1/settings.yaml'), 'utf8');
    expect(settings).toContain(`slack: ${ROBIN}`);
    await say(depot, ROBIN, 'open job 1050, bus 17, renew coolant pump');
    expect(depot.messages(depot.channel).some((each) => each.pinned)).toBe(true);
    await workspaces.stop();
    await start();
    expect([...workspaces.started().keys()]).toEqual(['T0DEPOT1']);
    await say(depot, ROBIN, 'open jobs');
    expect(all(depot)).toContain('1050');
  });

  it('see nothing of each other: not in lists, not by number, not by a forged button', async () => {
    await install(depot);
    await install(yard);
    expect([...workspaces.started().keys()].sort()).toEqual(['T0DEPOT1', 'T0YARD01']);
    await say(depot, ROBIN, 'open job 1050, bus 17, renew coolant pump');
    const root = depot.messages(depot.channel).find((each) => each.pinned)?.ts ?? '';
    await say(depot, ROBIN, 'wheels chocked, parking brake on', root);
    // The same channel id and the same people, in the other workspace.
    await say(yard, ROBIN, 'open jobs');
    await say(yard, ROBIN, 'where is 1050');
    await yard.command(ROBIN, yard.channel, 'open jobs');
    await yard.openHome(ROBIN);
    await calm();
    await until(() => yard.home(ROBIN) !== undefined);
    const sent = `${all(yard)} ${JSON.stringify(yard.home(ROBIN))}`;
    expect(sent).toContain('No job is open');
    expect(sent).not.toContain('bus 17');
    // A number of the other workspace is free here.
    await say(yard, ROBIN, 'open job 1050, bus 44, renew coolant pump');
    const own = yard.messages(yard.channel).find((each) => each.pinned);
    expect(own?.text).toContain('bus 44');
    await yard.forge(ROBIN, yard.channel, { do: 'close-job', job: '1051' });
    await calm();
    expect(all(depot)).not.toContain('bus 44');
    const events = await workspaces.started().get('T0DEPOT1')?.running.floor.shelved('1050');
    expect(events?.state.view.opened.vehicle.name).toBe('bus 17');
  });

  it('go on when one of them takes the app out; what is for it is not taken any more', async () => {
    await install(depot);
    await install(yard);
    await yard.uninstall();
    await until(() => !workspaces.started().has('T0YARD01'), 'the yard is left');
    await say(depot, ROBIN, 'open job 1050, bus 17, renew coolant pump');
    expect(depot.messages(depot.channel).some((each) => each.pinned)).toBe(true);
    const before = yard.acknowledged.length;
    await yard.post(ROBIN, yard.channel, 'open job 1060, bus 44, renew coolant pump');
    expect(yard.acknowledged.slice(before).some((each) => each.ok)).toBe(false);
    await workspaces.stop();
    await start();
    expect([...workspaces.started().keys()]).toEqual(['T0DEPOT1']);
  });

  it('are refused where they are not listed', async () => {
    await workspaces.stop();
    await start({ teams: ['T0YARD01'] });
    expect((await install(depot)).status).toBe(403);
    expect(workspaces.started().size).toBe(0);
  });

  it('with one whose settings are wrong start all the same, and it is named in the log', async () => {
    await install(depot);
    await install(yard);
    await workspaces.stop();
    await writeFile(join(folder, 'workspaces/T0YARD01/settings.yaml'), 'nonsense: 1\n');
    await start();
    expect([...workspaces.started().keys()]).toEqual(['T0DEPOT1']);
    expect(JSON.stringify(log)).toContain('T0YARD01');
  });

  it('are not served with another key, in one clear line before anything listens', async () => {
    await install(depot);
    await workspaces.stop();
    await expect(start({ keys: { current: randomBytes(32) } })).rejects.toThrow(
      'another key than CHARGEHAND_TOKEN_KEY',
    );
    await start();
  });
});

describe('an installation', () => {
  type Sent = { readonly query: Record<string, string>; readonly cookie: string };
  const refusals: readonly (readonly [string, (state: string, cookie: string) => Sent])[] = [
    [
      'a state of nobody',
      (_, cookie) => {
        return { query: { code: 'x', state: 'f'.repeat(64) }, cookie };
      },
    ],
    [
      'the cookie of another browser',
      (state) => {
        return { query: { code: 'x', state }, cookie: 'chargehand_install=no' };
      },
    ],
    [
      'no code',
      (state, cookie) => {
        return { query: { state }, cookie };
      },
    ],
  ];
  it.each(refusals)('with %s is refused', async (_, make) => {
    const { to, cookie } = await begin();
    const sent = make(to.searchParams.get('state') ?? '', cookie);
    expect((await finish(sent.query, sent.cookie)).status).toBe(400);
    expect(workspaces.started().size).toBe(0);
  });

  it('is finished once only, and not after ten minutes', async () => {
    const { to, cookie } = await begin();
    const state = to.searchParams.get('state') ?? '';
    expect((await finish({ code: depot.agree(ROBIN), state }, cookie)).status).toBe(200);
    expect((await finish({ code: depot.agree(ROBIN), state }, cookie)).status).toBe(400);
    const late = await begin();
    time.forward(601);
    const query = { code: depot.agree(ROBIN), state: late.to.searchParams.get('state') ?? '' };
    expect((await finish(query, late.cookie)).status).toBe(400);
  });

  it('that was declined installs nothing, and says how to begin again', async () => {
    const { to, cookie } = await begin();
    const answer = await finish(
      { error: 'access_denied', state: to.searchParams.get('state') ?? '' },
      cookie,
    );
    expect(await answer.text()).toContain('Nothing was installed');
  });

  it('whose code Slack does not take is answered with what to do, and leaves no token anywhere', async () => {
    const { to, cookie } = await begin();
    const answer = await finish(
      { code: 'not-one', state: to.searchParams.get('state') ?? '' },
      cookie,
    );
    expect(answer.status).toBe(502);
    expect(await answer.text()).toContain('invalid_code');
    await install(depot);
    await say(depot, ADA, 'hello');
    expect(JSON.stringify(log)).not.toContain(BOT_TOKEN);
    expect(await readFile(join(folder, 'installations/T0DEPOT1.json'), 'utf8')).not.toContain(
      BOT_TOKEN,
    );
  });
});
