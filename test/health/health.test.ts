// The health, its page and its counters: what they say, who may see them, and that nothing of a job or a person is in them.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type HealthDesk, healthDesk } from '../../src/health/health-desk.ts';
import { spanWords } from '../../src/health/health-page.ts';
import { healthServer } from '../../src/health/health-server.ts';

let folder: string;
let now: string;
let desk: HealthDesk;
let posts: number;
let since: string;
const at = (minutes: number): string =>
  new Date(Date.parse('2026-03-10T07:00:00.000Z') + minutes * 60_000).toISOString();

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'chargehand-health-'));
  now = at(0);
  posts = 0;
  since = '';
  desk = healthDesk(() => now);
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const watch = (): void =>
  desk.watch({
    clock: () => now,
    folder,
    backlogs: () => [
      { channel: 'bench', posts: 0, since: '' },
      { channel: 'slack', posts, since },
    ],
    inbox: async () => 2,
    jobs: async () => [{ status: 'open' }, { status: 'closed' }, { status: 'cancelled' }],
  });
const json = async () => {
  const answer = await desk.answer('/health', false);
  return { status: answer?.status, health: JSON.parse(answer?.body ?? '{}') };
};
const metric = async (name: string): Promise<string | undefined> =>
  (await desk.answer('/metrics', false))?.body
    .split('\n')
    .find((line) => line.startsWith(`${name} `))
    ?.slice(name.length + 1);

describe('the health', () => {
  it('is not there before the start is through', async () => {
    expect((await desk.answer('/health', false))?.status).toBe(503);
    watch();
    expect((await desk.answer('/health', false))?.status).toBe(200);
    expect(await desk.answer('/elsewhere', false)).toBeUndefined();
  });

  it('says how long it runs, what waits, what came last, and room on the disk', async () => {
    watch();
    now = at(5);
    desk.count({
      step: 'accepted',
      channel: 'slack',
      kind: 'message',
      kept: 'new',
      seconds: 0.002,
    });
    desk.count({ step: 'posted', channel: 'slack', sort: 'card' });
    now = at(6);
    [posts, since] = [3, at(4)];
    desk.count({ step: 'put-off', channel: 'slack', why: 'unclear' });
    const { status, health } = await json();
    expect(status).toBe(200);
    expect(health).toMatchObject({
      state: 'well',
      since: at(0),
      uptimeSeconds: 360,
      inbox: 2,
      jobs: { open: 1, over: 2 },
      channels: [
        { channel: 'bench', waiting: 0, oldestSeconds: 0 },
        {
          ...{ channel: 'slack', waiting: 3, oldestSeconds: 120, holdsUp: 'unclear' },
          ...{ lastDelivery: at(5), lastPost: at(5) },
        },
      ],
    });
    expect(health.version).toMatch(/^\d+\.\d+\.\d+/u);
    expect(health.disk.freeBytes).toBeGreaterThan(0);
    expect(health.disk.ofBytes).toBeGreaterThanOrEqual(health.disk.freeBytes);
  });

  it('an outage of more than five minutes is to be looked at, and over once posts go out', async () => {
    watch();
    [posts, since] = [1, at(0)];
    now = at(5);
    expect((await json()).health.state).toBe('well');
    now = at(6);
    const { status, health } = await json();
    expect([status, health.state]).toEqual([503, 'look']);
    expect(health.look[0]).toMatch(/^1 post waits for slack\. Nothing is lost; /u);
    posts = 0;
    expect((await json()).health.state).toBe('well');
  });

  it('a trouble of the disk is shown for a quarter of an hour, and a folder that is gone as long as it is', async () => {
    watch();
    desk.trouble('disk-full');
    expect((await json()).health.look).toEqual(['The disk was full. Make room on it.']);
    now = at(16);
    expect((await json()).status).toBe(200);
    rmSync(folder, { recursive: true });
    expect((await json()).health.look[0]).toMatch(/^The data folder cannot be looked at/u);
  });

  it('a delivery that could not be worked off is to be looked at', async () => {
    watch();
    desk.count({ step: 'worked-off', channel: 'bench', well: false });
    expect((await json()).health.look[0]).toMatch(
      /^1 delivery was kept but could not be worked off/u,
    );
  });

  it('as a page it says the same in words, and runs and loads nothing', async () => {
    watch();
    [posts, since] = [2, at(0)];
    now = at(90);
    const page = (await desk.answer('/health', true))?.body ?? '';
    expect(page).toContain('2 posts wait for slack');
    expect(page).toContain('2, the oldest for 1 h 30 min');
    expect(page).not.toMatch(/<script|<link|<img|style=| on\w+=/u);
  });

  it.each([
    [0, '0 s'],
    [59, '59 s'],
    [60, '1 min'],
    [3_600, '1 h 0 min'],
    [5_430, '1 h 30 min'],
    [90_000, '1 d 1 h'],
  ])('%i seconds are %s', (seconds, words) => expect(spanWords(seconds)).toBe(words));
});

describe('the counters', () => {
  it('count by channel and outcome, in the Prometheus text format', async () => {
    watch();
    for (const kept of ['new', 'new', 'seen'] as const)
      desk.count({ step: 'accepted', channel: 'bench', kind: 'message', kept, seconds: 0.003 });
    desk.count({ step: 'recorded', events: 3, posts: 1 });
    desk.count({ step: 'posted', channel: 'bench', sort: 'sign' });
    desk.count({ step: 'put-off', channel: 'slack', why: 'wait' });
    desk.count({ step: 'given-up', channel: 'slack' });
    desk.trouble('damaged');
    now = at(2);
    const answer = await desk.answer('/metrics', false);
    expect(answer?.type).toMatch(/^text\/plain; version=0\.0\.4/u);
    const deliveries = 'chargehand_deliveries_total{channel="bench",kind="message",kept=';
    expect(await metric(`${deliveries}"new"}`)).toBe('2');
    expect(await metric(`${deliveries}"seen"}`)).toBe('1');
    expect(await metric('chargehand_events_total')).toBe('3');
    expect(await metric('chargehand_posts_total{channel="bench",outcome="posted"}')).toBe('1');
    expect(await metric('chargehand_posts_total{channel="slack",outcome="wait"}')).toBe('1');
    expect(await metric('chargehand_posts_total{channel="slack",outcome="given-up"}')).toBe('1');
    expect(await metric('chargehand_store_troubles_total{kind="damaged"}')).toBe('1');
    expect(await metric('chargehand_accept_seconds_bucket{le="0.005"}')).toBe('3');
    expect(await metric('chargehand_accept_seconds_bucket{le="0.002"}')).toBe('0');
    expect(await metric('chargehand_uptime_seconds')).toBe('120');
    expect(await metric('chargehand_jobs{status="open"}')).toBe('1');
    // Every line is a comment or a sample, as the format has it.
    for (const line of answer?.body.split('\n') ?? [])
      expect(line).toMatch(/^$|^# (?:HELP|TYPE) |^[a-z_]+(?:\{[^}]*\})? -?[\d.e+]+(?:NaN)?$/u);
  });
});

describe('the port of its own', () => {
  it('serves only this machine, only reading, only these paths', async () => {
    watch();
    const server = await healthServer(desk, 0);
    const ask = (path: string, init?: RequestInit) => fetch(new URL(path, server.address), init);
    try {
      const { hostname } = new URL(server.address);
      expect(hostname).toBe('127.0.0.1');
      const health = await ask('/health');
      expect([health.status, health.headers.get('cache-control')]).toEqual([200, 'no-store']);
      expect(health.headers.get('content-security-policy')).toContain("default-src 'none'");
      expect((await ask('/metrics')).status).toBe(200);
      expect(
        (await ask('/', { headers: { accept: 'text/html' } })).headers.get('content-type'),
      ).toContain('text/html');
      expect((await ask('/job/1042')).status).toBe(404);
      expect((await ask('/health', { method: 'POST', body: 'x' })).status).toBe(405);
    } finally {
      await server.stop();
    }
  });

  it('a port in use is refused with what to do', async () => {
    watch();
    const server = await healthServer(desk, 0);
    const { port } = new URL(server.address);
    await expect(healthServer(desk, Number(port))).rejects.toThrow(
      `The health cannot be served on port ${port}: another program uses it.\nGive another one with --health-port.`,
    );
    await server.stop();
  });
});
