// The bench on the workshop's network: over TLS with a certificate of the test's own, and behind a proxy.
import { readFile } from 'node:fs/promises';
import { type IncomingMessage, request as plainRequest } from 'node:http';
import { request as tlsRequest } from 'node:https';
import { join } from 'node:path';
import { afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { BenchNetwork } from '../../../src/chat/bench/bench-options.ts';
import { removePersonFromPasses } from '../../../src/chat/bench/door/passes.ts';
import { folderPapers } from '../../../src/chat/bench/kept/folder-papers.ts';
import { type BenchRun, openThread, runBench } from './bench-run.ts';
import { hasOpenssl, makeCertificate, NAME } from './certificate.ts';
import { fakeView, job1042, stopFlag } from './fake-view.ts';

type Got = {
  readonly status: number;
  readonly headers: IncomingMessage['headers'];
  readonly text: string;
};
type Asked = {
  readonly path: string;
  readonly body?: unknown;
  readonly cookie?: string;
  readonly headers?: Readonly<Record<string, string>>;
};

let made: { readonly cert: string; readonly key: string } | undefined;
beforeAll(() => {
  if (hasOpenssl) made = makeCertificate();
});
const running: BenchRun[] = [];
afterEach(async () => {
  for (const run of running.splice(0)) await run.end();
});

let clock = Date.parse('2025-03-04T10:42:00.000Z');
const later = (minutes: number): void => {
  clock += minutes * 60_000;
};

const start = async (network: BenchNetwork, ...rest: Parameters<typeof fakeView>) => {
  clock = Date.parse('2025-03-04T10:42:00.000Z');
  const more = { network, clock: () => new Date(clock).toISOString() };
  const run = await runBench(more, fakeView(...rest));
  running.push(run);
  return run;
};
const overTls = (...rest: Parameters<typeof fakeView>) =>
  start({ tls: made ?? { cert: '', key: '' }, names: [NAME] }, ...rest);
const behindProxy = (...rest: Parameters<typeof fakeView>) => start({}, ...rest);

/** Asks as a device would, with the certificate checked; behind a proxy with what the proxy adds. */
const ask = (run: BenchRun, { path, body, cookie, headers = {} }: Asked): Promise<Got> =>
  new Promise((resolve, reject) => {
    const { port, protocol } = new URL(run.bench.address());
    const isTls = protocol === 'https:';
    const asked = (isTls ? tlsRequest : plainRequest)(
      {
        host: '127.0.0.1',
        port,
        path,
        method: body === undefined ? 'GET' : 'POST',
        agent: false,
        ...(isTls ? { ca: made?.cert, servername: NAME } : {}),
        headers: {
          host: isTls ? `${NAME}:${port}` : 'bench.example',
          ...(isTls ? {} : { 'x-forwarded-proto': 'https', 'x-forwarded-for': '10.0.0.9' }),
          ...(body === undefined ? {} : { 'content-type': 'application/json' }),
          ...(cookie === undefined ? {} : { cookie }),
          ...headers,
        },
      },
      (response) => {
        const pieces: Buffer[] = [];
        response.on('data', (piece: Buffer) => pieces.push(piece));
        response.on('end', () =>
          resolve({
            status: response.statusCode ?? 0,
            headers: response.headers,
            text: Buffer.concat(pieces).toString('utf8'),
          }),
        );
      },
    );
    asked.on('error', reject);
    asked.end(body === undefined ? undefined : JSON.stringify(body));
  });

/** An open page's stream of news: when it began, and when it was cut. */
const liveOver = (run: BenchRun, cookie: string) => {
  const { port } = new URL(run.bench.address());
  const host = `${NAME}:${port}`;
  let isOpen = (): void => {};
  let isCut = (): void => {};
  const opened = new Promise<void>((resolve) => {
    isOpen = resolve;
  });
  const cut = new Promise<void>((resolve) => {
    isCut = resolve;
  });
  const asked = tlsRequest(
    {
      host: '127.0.0.1',
      port,
      path: '/live',
      agent: false,
      ca: made?.cert,
      servername: NAME,
      headers: { host, cookie },
    },
    (response) => {
      response.once('data', () => isOpen());
      response.on('error', () => undefined);
      response.on('close', () => isCut());
    },
  );
  asked.on('error', isCut);
  asked.end();
  return { opened, cut };
};

const enter = async (run: BenchRun, code: string, headers: Record<string, string> = {}) =>
  ask(run, { path: '/api/enter', body: { code }, headers });
const cookieOf = (got: Got): string => got.headers['set-cookie']?.[0]?.split(';')[0] ?? '';
const letIn = async (run: BenchRun, person: string): Promise<string> => {
  const got = await enter(run, (await run.bench.letIn(person))?.code ?? '');
  expect(got.status, got.text).toBe(200);
  return cookieOf(got);
};
/** A code that a controller asks the bench for, as the page shows it. */
const invited = async (run: BenchRun, cookie: string, body: object): Promise<Got> =>
  ask(run, { path: '/api/invite', body, cookie });
const codeIn = (got: Got): string =>
  /class="short-code">([^<]+)</.exec(JSON.parse(got.text).html as string)?.[1] ?? '';
const tabletIn = async (run: BenchRun): Promise<string> => {
  const controller = await letIn(run, 'Kim');
  const code = codeIn(await invited(run, controller, { kind: 'tablet', name: 'Bay 3 tablet' }));
  return cookieOf(await enter(run, code));
};
const said = (id: number, text: string, thread: string | null = null) => ({
  id: `aaaaaaaa${id}`,
  thread,
  text,
});

const withOpenssl = hasOpenssl
  ? 'over TLS'
  : 'over TLS (left out: there is no openssl here to make a certificate)';

describe.skipIf(!hasOpenssl)(withOpenssl, () => {
  it('lets nobody see or send anything without a pass', async () => {
    const run = await overTls([{ ...job1042, flags: [stopFlag] }]);
    await openThread(run);
    const page = await ask(run, { path: '/job/1042', headers: { accept: 'text/html' } });
    expect([page.status, page.headers.location]).toEqual([303, '/enter']);
    for (const path of ['/', '/wall', '/parts?page=yard', '/live', '/contact', '/photo/a.jpg']) {
      const got = await ask(run, { path });
      expect(got.status, path).toBe(401);
      expect(got.text, path).not.toContain('1042');
      expect(JSON.parse(got.text), path).toMatchObject({ needs: 'pass' });
    }
    // The name that is chosen on the loopback page says nothing here.
    const forged = { body: said(1, 'drained 28 L'), cookie: 'chargehand-who=Sam' };
    expect((await ask(run, { path: '/api/message', ...forged })).status).toBe(401);
    expect((await ask(run, { path: '/api/who', body: { name: 'Kim' } })).status).toBe(401);
    expect(run.floor.taken).toEqual([]);
    const door = await ask(run, { path: '/enter' });
    expect(door.status).toBe(200);
    expect(door.text).not.toMatch(/1042|Sam|Kim/);
  });

  it('gives a code once for a secure cookie of 256 random bits, kept on disk as a hash', async () => {
    const run = await overTls([job1042]);
    const code = (await run.bench.letIn('Sam'))?.code ?? '';
    // As thumbs type it.
    const got = await enter(run, ` ${code.toLowerCase().replace('-', ' ')} `);
    expect(got.status).toBe(200);
    const [cookie = ''] = got.headers['set-cookie'] ?? [];
    const secret = /^__Host-chargehand=([A-Za-z0-9_-]{43});/.exec(cookie)?.[1] ?? '';
    expect(Buffer.from(secret, 'base64url')).toHaveLength(32);
    for (const part of ['Secure', 'HttpOnly', 'SameSite=Lax', 'Path=/']) {
      expect(cookie.split('; ')).toContain(part);
    }
    const kept = await readFile(join(run.folder, 'passes.json'), 'utf8');
    expect(kept).not.toContain(secret);
    expect(kept).not.toContain(code.replace('-', ''));
    // Used up.
    expect((await enter(run, code)).status).toBe(401);
    const page = await ask(run, { path: '/', cookie: `__Host-chargehand=${secret}` });
    expect(page.text).toMatch(/posting as<\/span><span class="who-name">Sam/);
    expect(page.text).not.toContain('not proved');
    // The device is Sam's: nobody else is chosen on it.
    const other = {
      path: '/api/who',
      body: { name: 'Kim' },
      cookie: `__Host-chargehand=${secret}`,
    };
    expect((await ask(run, other)).status).toBe(403);
    const sent = { body: said(1, 'x'), cookie: `__Host-chargehand=${secret}; chargehand-who=Kim` };
    expect((await ask(run, { path: '/api/message', ...sent })).status).toBe(200);
    expect(run.floor.taken[0]?.person).toBe('Sam');
  });

  it('keeps passes over a restart, and no codes', async () => {
    const run = await overTls();
    const cookie = await letIn(run, 'Sam');
    const code = (await run.bench.letIn('Kim'))?.code ?? '';
    await run.bench.stop();
    await run.bench.start(run.floor);
    expect((await ask(run, { path: '/', cookie })).status).toBe(200);
    expect((await enter(run, code)).status).toBe(401);
  });

  it('lets codes end after ten minutes and passes after thirty days', async () => {
    const run = await overTls();
    const code = (await run.bench.letIn('Sam'))?.code ?? '';
    later(10);
    expect((await enter(run, code)).status).toBe(401);
    const cookie = await letIn(run, 'Sam');
    later(30 * 24 * 60 - 1);
    expect((await ask(run, { path: '/', cookie })).status).toBe(200);
    later(1);
    expect((await ask(run, { path: '/', cookie })).status).toBe(401);
  });

  it('closes the door for a quarter of an hour after five wrong codes, and says until when', async () => {
    const run = await overTls();
    const code = (await run.bench.letIn('Sam'))?.code ?? '';
    for (let tries = 0; tries < 5; tries += 1) {
      expect((await enter(run, 'AAAA-AAAA')).status).toBe(401);
    }
    // Nor does a forged header make it another address: no proxy is known to stand before the bench.
    const got = await enter(run, code, { 'x-forwarded-for': '10.9.9.9' });
    expect(got.status).toBe(429);
    // 10:42 UTC is 10:42 in London in March.
    expect(JSON.parse(got.text).what).toContain('until 10:57');
    later(15);
    expect((await enter(run, (await run.bench.letIn('Sam'))?.code ?? '')).status).toBe(200);
  });

  it('is let in by controllers, who end passes too', async () => {
    const run = await overTls([job1042]);
    const technician = await letIn(run, 'Sam');
    const own = { kind: 'own', name: 'Ayo' };
    expect((await invited(run, technician, own)).status).toBe(403);
    expect((await ask(run, { path: '/people', cookie: technician })).status).toBe(403);
    const controller = await letIn(run, 'Kim');
    expect((await invited(run, controller, { kind: 'own', name: 'Nobody' })).status).toBe(404);
    const got = await invited(run, controller, own);
    const { html } = JSON.parse(got.text) as { html: string };
    expect(html).toContain('<svg class="qr"');
    expect(html).toContain(`https://${NAME}:`);
    const ayo = cookieOf(await enter(run, codeIn(got)));
    expect((await ask(run, { path: '/', cookie: ayo })).status).toBe(200);

    const list = await ask(run, { path: '/people', cookie: controller });
    const ids = [
      ...list.text.matchAll(/data-end="([0-9a-f]{16})" aria-label="End it: the pass of (\w+)/g),
    ];
    const id = ids.find(([, , name]) => name === 'Ayo')?.[1];
    const end = { path: '/api/end', body: { id } };
    expect((await ask(run, { ...end, cookie: technician })).status).toBe(403);
    const live = liveOver(run, ayo);
    await live.opened;
    expect((await ask(run, { ...end, cookie: controller })).status).toBe(200);
    // The open page is cut off at once, and nothing is answered any more.
    await live.cut;
    expect((await ask(run, { path: '/', cookie: ayo })).status).toBe(401);
    expect((await ask(run, { ...end, cookie: controller })).status).toBe(404);
  });

  it('ends a pass on its own device', async () => {
    const run = await overTls();
    const cookie = await letIn(run, 'Sam');
    expect((await ask(run, { path: '/pass', cookie })).text).toContain('This device is Sam&#39;s.');
    const left = await ask(run, { path: '/api/leave', body: {}, cookie });
    expect(left.headers['set-cookie']?.[0]).toContain('Max-Age=0');
    expect((await ask(run, { path: '/', cookie })).status).toBe(401);
  });

  it('asks on a shared tablet for the own code where a person’s own word counts', async () => {
    const run = await overTls([job1042]);
    const thread = await openThread(run);
    const tablet = await tabletIn(run);
    const nobody = await ask(run, { path: '/', cookie: tablet });
    expect(nobody.text).toContain('nobody yet');
    const who = await ask(run, { path: '/api/who', body: { name: 'Sam' }, cookie: tablet });
    const chosen = `${tablet}; ${cookieOf(who)}`;
    const send = (body: object) => ask(run, { path: '/api/message', body, cookie: chosen });
    // Ordinary reports go through, marked.
    expect((await send(said(1, 'drained 28 L', thread))).status).toBe(200);
    const page = await ask(run, { path: '/job/1042', cookie: chosen });
    expect(page.text).toContain('chosen on Bay 3 tablet, not proved');

    // A code that nothing asked for proves nothing.
    expect((await send({ ...said(7, 'belt off', thread), code: 'whatever' })).status).toBe(200);
    const marked = await ask(run, { path: '/job/1042', cookie: chosen });
    expect(marked.text.match(/not proved<\/span><p/g) ?? []).toHaveLength(2);

    run.floor.ownWord = 'A release';
    const none = await send(said(2, 'released', thread));
    expect(none.status).toBe(403);
    expect(JSON.parse(none.text).what).toBe(
      "A release takes Sam's own code, and Sam has none yet.",
    );
    const phone = await letIn(run, 'Sam');
    const set = (cookie: string, code: string) =>
      ask(run, { path: '/api/own-code', body: { code }, cookie });
    expect((await set(tablet, '246810')).status).toBe(403);
    expect((await set(phone, '123')).status).toBe(400);
    expect((await set(phone, '246810')).status).toBe(200);
    const kept = await readFile(join(run.folder, 'passes.json'), 'utf8');
    expect(kept).not.toContain('246810');

    const asked = await send(said(3, 'released', thread));
    expect(asked.status).toBe(401);
    expect(JSON.parse(asked.text)).toMatchObject({ needs: 'code' });
    const wrong = await send({ ...said(3, 'released', thread), code: '246811' });
    expect(JSON.parse(wrong.text).what).toBe('This code is not the one.');
    expect(run.floor.taken.map((each) => each.id)).toEqual(['bench:aaaaaaaa1', 'bench:aaaaaaaa7']);
    expect((await send({ ...said(3, 'released', thread), code: '246810' })).status).toBe(200);
    expect(run.floor.taken).toHaveLength(3);
    // Said with the code, it is as good as from the own phone.
    const after = await ask(run, { path: '/job/1042', cookie: chosen });
    expect(after.text.match(/not proved<\/span><p/g) ?? []).toHaveLength(2);
    // Neither a tap nor changed words go around it.
    const intent = { do: 'release', job: '1042', step: 'drain-coolant', position: null };
    const tap = { id: 'aaaaaaaa8', thread, intent };
    expect((await ask(run, { path: '/api/tap', body: tap, cookie: chosen })).status).toBe(401);
    const change = { id: 'aaaaaaaa9', thread, message: 'm-aaaaaaaa1', text: 'released' };
    expect((await ask(run, { path: '/api/change', body: change, cookie: chosen })).status).toBe(
      401,
    );

    for (let tries = 0; tries < 5; tries += 1)
      await send({ ...said(4, 'r', thread), code: 'no-no' });
    const closed = await send({ ...said(4, 'released', thread), code: '246810' });
    expect(closed.status).toBe(429);
    expect(JSON.parse(closed.text).what).toContain('Too many wrong codes for Sam');
    // From the own phone it goes without.
    const own = { body: said(5, 'released', thread), cookie: phone };
    expect((await ask(run, { path: '/api/message', ...own })).status).toBe(200);
  });

  it('forgets a person: passes, own code, and whom they let in', async () => {
    const run = await overTls();
    const controller = await letIn(run, 'Kim');
    const code = codeIn(await invited(run, controller, { kind: 'own', name: 'Ayo' }));
    const ayo = cookieOf(await enter(run, code));
    const body = { code: '246810' };
    expect((await ask(run, { path: '/api/own-code', body, cookie: controller })).status).toBe(200);
    await run.bench.stop();
    expect(await removePersonFromPasses(folderPapers(run.folder), ['Kim'])).toBe(2);
    expect(await readFile(join(run.folder, 'passes.json'), 'utf8')).not.toContain('Kim');
    await run.bench.start(run.floor);
    expect((await ask(run, { path: '/', cookie: controller })).status).toBe(401);
    expect((await ask(run, { path: '/pass', cookie: ayo })).text).toContain('removed person');
  });

  it('lets nobody in from a shared tablet, whoever is chosen on it', async () => {
    const run = await overTls();
    const tablet = await tabletIn(run);
    const who = await ask(run, { path: '/api/who', body: { name: 'Kim' }, cookie: tablet });
    const chosen = `${tablet}; ${cookieOf(who)}`;
    expect((await invited(run, chosen, { kind: 'own', name: 'Sam' })).status).toBe(403);
    expect((await ask(run, { path: '/people', cookie: chosen })).status).toBe(403);
  });

  it('answers its own names only, and its own pages only', async () => {
    const run = await overTls();
    const cookie = await letIn(run, 'Sam');
    const { port } = new URL(run.bench.address());
    expect(run.bench.address()).toBe(`https://${NAME}:${port}/`);
    const foreign = await ask(run, {
      path: '/',
      cookie,
      headers: { host: `evil.example:${port}` },
    });
    expect(foreign.status).toBe(421);
    const sent = { path: '/api/message', body: said(1, 'x'), cookie };
    for (const origin of ['https://evil.example', `http://${NAME}:${port}`, 'null']) {
      expect((await ask(run, { ...sent, headers: { origin } })).status, origin).toBe(403);
    }
    const own = await ask(run, { ...sent, headers: { origin: `https://${NAME}:${port}` } });
    expect(own.status).toBe(200);
  });
});

describe('behind a proxy', () => {
  it('is asked over TLS only, and by the name the proxy was asked by', async () => {
    const run = await behindProxy();
    const cookie = await letIn(run, 'Sam');
    const plain = { path: '/', cookie, headers: { 'x-forwarded-proto': 'http' } };
    expect((await ask(run, plain)).status).toBe(426);
    expect((await ask(run, { path: '/', cookie })).status).toBe(200);
    const sent = { path: '/api/message', body: said(1, 'x'), cookie };
    const origin = (of: string) => ask(run, { ...sent, headers: { origin: of } });
    expect((await origin('https://evil.example')).status).toBe(403);
    expect((await origin('https://bench.example')).status).toBe(200);
  });

  it('keeps to the names it was given', async () => {
    const run = await start({ names: ['bench.example'] });
    expect((await ask(run, { path: '/enter', headers: { host: 'other.example' } })).status).toBe(
      421,
    );
  });

  it('counts wrong codes by the address that the proxy added last, and over all', async () => {
    const run = await behindProxy();
    const code = (await run.bench.letIn('Sam'))?.code ?? '';
    const from = (address: string, given: string) =>
      enter(run, given, { 'x-forwarded-for': `1.2.3.4, ${address}` });
    for (let tries = 0; tries < 5; tries += 1) await from('10.0.0.1', 'WRONG');
    expect((await from('10.0.0.1', code)).status).toBe(429);
    // Nine more devices bring it to fifty: no typed code is taken from anywhere then.
    for (let device = 2; device <= 10; device += 1) {
      for (let tries = 0; tries < 5; tries += 1) await from(`10.0.0.${device}`, 'WRONG');
    }
    expect((await from('10.0.0.99', code)).status).toBe(429);
    later(15);
    const fresh = (await run.bench.letIn('Sam'))?.code ?? '';
    expect((await from('10.0.0.99', fresh)).status).toBe(200);
  });
});
