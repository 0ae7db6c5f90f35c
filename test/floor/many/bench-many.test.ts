// Two bot processes that serve the bench page on one database, each with a data folder of its own that holds the settings and
// nothing else: signed in at one, people read and post at the other, and see there what happens here.
import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { FIRST_PLAN } from '../../../src/floor/first-plan.ts';
import { type Started, startWorkshop } from '../../../src/main.ts';
import {
  type Cluster,
  hasPostgres,
  startCluster,
  WITHOUT_POSTGRES,
} from '../../store/postgres/cluster.ts';

const JPEG = Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.alloc(2_000, 7)]);

describe.skipIf(!hasPostgres)(`the bench page of two processes ${WITHOUT_POSTGRES}`, () => {
  let cluster: Cluster;
  let url = '';
  const folders: string[] = [];
  const both: Started[] = [];

  const begin = async (): Promise<Started> => {
    const folder = await mkdtemp(join(tmpdir(), 'chargehand-bench-many-'));
    folders.push(folder);
    const settings = stringify({
      workshop: 'Harrow Lane depot',
      zone: 'Europe/London',
      people: [
        { name: 'Ada', roles: ['technician'] },
        { name: 'Robin', roles: ['controller'] },
      ],
    });
    await writeFile(join(folder, 'settings.yaml'), settings);
    const started = await startWorkshop({
      folder,
      port: 0,
      network: {},
      env: { CHARGEHAND_DATABASE: url },
      logger: pino({ level: 'silent' }),
    });
    both.push(started);
    return started;
  };

  beforeAll(async () => {
    cluster = await startCluster();
    url = await cluster.database('bench_many');
    await begin();
    await begin();
  }, 120_000);
  afterAll(async () => {
    for (const each of both) await each.stop();
    await cluster?.stop();
    for (const folder of folders) await rm(folder, { recursive: true, force: true });
  }, 120_000);

  const at = (which: 0 | 1): Started => both[which] as Started;
  /** Asks as the proxy before the processes does. */
  const ask = (which: 0 | 1, path: string, cookie: string, body?: unknown): Promise<Response> =>
    fetch(new URL(path, at(which).address), {
      headers: {
        'x-forwarded-proto': 'https',
        'x-forwarded-host': 'bench.example',
        'x-forwarded-for': '10.0.0.9',
        accept: path.startsWith('/api') || path === '/live' ? '*/*' : 'text/html',
        cookie,
        ...(body === undefined || Buffer.isBuffer(body)
          ? {}
          : { 'content-type': 'application/json' }),
        ...(Buffer.isBuffer(body) ? { 'x-photo': 'photo-id-0123456789' } : {}),
      },
      ...(body === undefined
        ? {}
        : {
            method: 'POST',
            body: Buffer.isBuffer(body) ? new Uint8Array(body) : JSON.stringify(body),
          }),
    });
  const enter = async (which: 0 | 1, code: string): Promise<string> => {
    const answer = await ask(which, '/api/enter', '', { code });
    expect(answer.status, await answer.text()).toBe(200);
    return answer.headers.get('set-cookie')?.split(';')[0] ?? '';
  };
  let serial = 0;
  const say = async (
    which: 0 | 1,
    cookie: string,
    text: string,
    more: { readonly thread?: string; readonly photos?: readonly string[] } = {},
  ): Promise<void> => {
    serial += 1;
    const id = `aaaaaaaa${serial}`;
    const answer = await ask(which, '/api/message', cookie, { id, thread: null, text, ...more });
    expect(answer.status, await answer.text()).toBe(200);
  };
  const page = async (which: 0 | 1, path: string, cookie: string): Promise<string> =>
    (await ask(which, path, cookie)).text();
  /** What an open page is told, until it is closed. */
  const listen = async (which: 0 | 1, path: string, cookie: string) => {
    const answer = await ask(which, path, cookie);
    const reader = answer.body?.getReader();
    let heard = '';
    const reading = (async () => {
      for (;;) {
        const part = await reader?.read();
        if (!part || part.done) return;
        heard += Buffer.from(part.value).toString('utf8');
      }
    })().catch(() => undefined);
    return { heard: () => heard, close: () => reader?.cancel().then(() => reading) };
  };
  const settled = (check: () => Promise<boolean> | boolean) =>
    expect.poll(check, { timeout: 30_000, interval: 50 }).toBe(true);

  let robin = '';

  it('serves one workshop', async () => {
    // A code of one lets in at the other, and the pass is good at both.
    robin = await enter(1, (await at(0).letIn?.('Robin'))?.code ?? '');
    for (const which of [0, 1] as const)
      expect(await page(which, '/', robin)).toContain('data-page="yard"');
    const invited = await ask(1, '/api/invite', robin, { kind: 'own', name: 'Ada' });
    const { html } = (await invited.json()) as { readonly html: string };
    const ada = await enter(0, /class="short-code">([^<]+)</u.exec(html)?.[1] ?? '');

    // Opened at one, worked on at the other.
    await say(0, robin, 'open job 1042 bus 27 Renew the coolant pump tech Ada');
    await settled(async () => (await page(1, '/job/1042', ada)).includes('data-thread="'));
    const thread = /data-thread="([^"]+)"/u.exec(await page(1, '/job/1042', ada))?.[1] ?? '';
    expect(thread).not.toBe('');

    // Posted through one, seen live in a page of the other, and at once in a page that is fetched there.
    const open = await listen(1, `/live?thread=${thread}`, robin);
    await say(0, ada, 'the cowl is off, first look', { thread });
    expect(await page(1, '/job/1042', robin)).toContain('the cowl is off, first look');
    await settled(() => open.heard().includes('the cowl is off, first look'));
    await say(1, robin, 'thanks, carry on', { thread });
    await settled(() => open.heard().includes('thanks, carry on'));
    expect(await page(0, '/job/1042', ada)).toContain('thanks, carry on');
    await open.close();

    // A page that was drawn by one goes on at the other without being drawn anew.
    const drawn = /data-since="([^"]+)"/u.exec(await page(0, '/job/1042', ada))?.[1] ?? '';
    await say(0, ada, 'between two pages', { thread });
    const moved = await listen(1, `/live?thread=${thread}&since=${drawn}`, ada);
    await settled(() => moved.heard().includes('between two pages'));
    expect(moved.heard()).not.toContain('event: again');
    await moved.close();

    // A photo that was handed to one is sent with a message through the other, kept as evidence, and shown by both.
    const photo = (await (await ask(0, '/api/photo', ada, JPEG)).json()) as {
      readonly photo: string;
    };
    await say(1, ada, 'photo of the pump', { thread, photos: [photo.photo] });
    for (const which of [0, 1] as const) {
      const shown = await ask(which, `/photo/${photo.photo}`, ada);
      expect(Buffer.from(await shown.arrayBuffer()).equals(JPEG)).toBe(true);
    }
    const kept = async (): Promise<readonly string[]> =>
      ((await at(0).running.floor.shelved('1042'))?.state.events ?? []).flatMap((event) =>
        event.kind === 'photo-kept' ? [event.sha256] : [],
      );
    await settled(async () => (await kept()).length === 1);
    const name = `${(await kept())[0]}.jpg`;
    for (const which of [0, 1] as const)
      expect((await at(which).running.floor.store.readFile('1042', name))?.length).toBe(
        JPEG.length,
      );

    // A plan that is saved at one opens a job at the other.
    const saved = await ask(0, '/api/plan-save', robin, { text: FIRST_PLAN });
    expect(saved.status, await saved.clone().text()).toBe(200);
    const { plan } = (await saved.json()) as { readonly plan: string };
    await settled(() => at(1).workshop.plans.has(plan));
    expect((await ask(1, '/api/plan-text', robin, { plan })).status).toBe(200);

    // Somebody who is taken in at one is known at the other.
    await at(1).running.floor.takeIn?.({ name: 'Bo', roles: ['technician'] }, 'Robin');
    await settled(() =>
      at(0).running.floor.workshop.settings.people.some((each) => each.name === 'Bo'),
    );
    expect(await page(0, '/people', robin)).toContain('Bo');

    // A pass that is ended at one is good at none.
    const id = /data-end="([0-9a-f]{16})"/u.exec(
      (await page(0, '/people', robin)).slice((await page(0, '/people', robin)).indexOf('Ada')),
    )?.[1];
    expect((await ask(0, '/api/end', robin, { id })).status).toBe(200);
    expect((await ask(1, '/live', ada)).status).toBe(401);

    // Wrong codes count together, wherever they are tried.
    const tried: number[] = [];
    for (let n = 0; n < 6; n += 1)
      tried.push(
        (await ask(n % 2 === 0 ? 0 : 1, '/api/enter', '', { code: `AAAA-AAA${n}` })).status,
      );
    expect(tried).toEqual([401, 401, 401, 401, 401, 429]);

    // Nothing of the workshop is in either folder: the database has it all.
    for (const folder of folders) {
      const names = (await readdir(folder, { recursive: true })).filter(
        (each) => !/^(?:settings\.yaml|chargehand\.log|plans)$/u.test(each),
      );
      expect(names).toEqual([]);
    }
  }, 120_000);

  it('goes on where a process that died stood', async () => {
    await at(0).stop();
    expect(await page(1, '/job/1042', robin)).toContain('between two pages');
    await say(1, robin, 'open job 1043 bus 28 Renew the coolant pump tech Ada');
    await settled(async () => (await page(1, '/job/1043', robin)).includes('data-thread="'));
    both.shift();
    const again = await begin();
    const shown = await fetch(new URL('/job/1043', again.address), {
      headers: {
        'x-forwarded-proto': 'https',
        'x-forwarded-host': 'bench.example',
        cookie: robin,
        accept: 'text/html',
      },
    });
    expect(await shown.text()).toContain('bus 28');
  }, 60_000);
});
