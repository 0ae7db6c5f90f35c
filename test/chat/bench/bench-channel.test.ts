// The bench over loopback: what is acknowledged is taken in, what is wrong is answered in one line what and what to do.
import { readFile, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import path from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { Delivery } from '../../../shared/delivery.ts';
import { benchChannel } from '../../../src/chat/bench/bench-channel.ts';
import { type BenchRun, NOW, openThread, runBench, YARD } from './bench-run.ts';
import { fakeView, job1042, job1043, stopFlag } from './fake-view.ts';

const running: BenchRun[] = [];
const start = async (...given: Parameters<typeof runBench>) => {
  const run = await runBench(...given);
  running.push(run);
  return run;
};
afterEach(async () => {
  for (const run of running.splice(0)) await run.end();
});

const message = (id: string, text: string, thread: string | null = null) => ({ id, thread, text });
const id = (at: number) => `aaaaaaaa${at}`;

describe('messages', () => {
  it('acknowledges a message only after it is taken in', async () => {
    const run = await start();
    const order: string[] = [];
    let open = (): void => {};
    const held = new Promise<void>((resolve) => {
      open = resolve;
    });
    run.floor.gate = async () => {
      order.push('handed in');
      await held;
      order.push('taken in');
    };
    const answer = run
      .post('/api/message', message(id(1), 'drained 28 L'), 'Sam')
      .then((response) => {
        order.push('acknowledged');
        return response;
      });
    await expect.poll(() => order).toEqual(['handed in']);
    // Nobody sees it before it is taken in.
    expect(await (await run.get('/', 'Kim')).text()).not.toContain('drained 28 L');
    open();
    expect((await answer).status).toBe(200);
    expect(order).toEqual(['handed in', 'taken in', 'acknowledged']);
    expect(await (await run.get('/', 'Kim')).text()).toContain('drained 28 L');
  });

  it('hands in a delivery of the settled form', async () => {
    const run = await start();
    const thread = await openThread(run);
    await run.post('/api/message', message(id(1), 'drained 28 L', thread), 'Sam');
    expect(Delivery.parse(run.floor.taken[0])).toEqual({
      id: `bench:${id(1)}`,
      keys: [],
      channel: 'bench',
      team: 'bench',
      place: 'yard',
      thread,
      person: 'Sam',
      at: NOW,
      kind: 'message',
      message: `m-${id(1)}`,
      text: 'drained 28 L',
    });
  });

  it('counts a message sent twice once, also after a restart', async () => {
    const run = await start();
    const thread = await openThread(run);
    const sent = message(id(1), 'cyl 6 trim code entered', thread);
    await Promise.all([
      run.post('/api/message', sent, 'Sam'),
      run.post('/api/message', sent, 'Sam'),
    ]);
    await run.post('/api/message', sent, 'Sam');
    expect(run.floor.taken).toHaveLength(1);
    const after = await run.again();
    running.push(after);
    expect((await after.post('/api/message', sent, 'Sam')).status).toBe(200);
    // It was acknowledged before, so the floor is not asked again.
    expect(after.floor.taken).toEqual([]);
    after.view.put(job1042);
    const page = await (await after.get('/job/1042', 'Sam')).text();
    expect(page.match(/<p class="text" dir="auto">cyl 6 trim code entered/g)).toHaveLength(1);
  });

  it('refuses an id that was sent before by somebody else', async () => {
    const run = await start();
    await run.post('/api/message', message(id(1), 'drained 28 L'), 'Sam');
    const answer = await run.post('/api/message', message(id(1), 'drained 2 L'), 'Kim');
    expect(answer.status).toBe(409);
    expect(run.floor.taken).toHaveLength(1);
  });

  it('answers plainly when it was not taken in, hides it, and takes it when it is sent again', async () => {
    const run = await start();
    run.floor.gate = async () => {
      throw new Error('disk full');
    };
    const answer = await run.post('/api/message', message(id(1), 'drained 28 L'), 'Sam');
    expect(answer.status).toBe(503);
    const told = (await answer.json()) as { what: string; doThis: string };
    expect(told.what).toMatch(/not recorded/);
    expect(JSON.stringify(told)).not.toContain('disk full');
    expect(await (await run.get('/', 'Sam')).text()).not.toContain('drained 28 L');
    run.floor.gate = async () => {};
    expect((await run.post('/api/message', message(id(1), 'drained 28 L'), 'Sam')).status).toBe(
      200,
    );
    expect(run.floor.taken).toHaveLength(1);
    expect((await (await run.get('/', 'Sam')).text()).match(/drained 28 L<\/p>/g)).toHaveLength(1);
  });

  it('hands in after a restart what was written down and not taken in', async () => {
    const run = await start();
    run.floor.gate = async () => {
      throw new Error('stopped in between');
    };
    await run.post('/api/message', message(id(1), 'drained 28 L'), 'Sam');
    const after = await run.again();
    running.push(after);
    await expect
      .poll(() => after.floor.taken.map(({ id: taken }) => taken))
      .toEqual([`bench:${id(1)}`]);
    await expect
      .poll(
        async () =>
          (await (await after.get('/', 'Sam')).text()).match(/drained 28 L<\/p>/g)?.length,
      )
      .toBe(1);
  });

  it('needs somebody who is chosen as the one who posts', async () => {
    const run = await start();
    for (const who of [undefined, 'Mallory']) {
      const answer = await run.post('/api/message', message(id(1), 'drained 28 L'), who);
      expect(answer.status).toBe(401);
      expect(await answer.json()).toMatchObject({ doThis: expect.stringMatching(/Choose/) });
    }
    expect(run.floor.taken).toEqual([]);
  });

  it('amends and takes back own words, not those of others', async () => {
    const run = await start();
    await run.post('/api/message', message(id(1), 'drained 18 L'), 'Sam');
    const amend = (at: number, text: string, who: string) =>
      run.post('/api/change', { id: id(at), thread: null, message: `m-${id(1)}`, text }, who);
    expect((await amend(2, 'drained 2 L', 'Kim')).status).toBe(403);
    expect((await amend(3, 'drained 28 L', 'Sam')).status).toBe(200);
    expect(await (await run.get('/')).text()).toContain('drained 28 L</p>');
    const back = { id: id(4), thread: null, message: `m-${id(1)}` };
    expect((await run.post('/api/take-back', back, 'Sam')).status).toBe(200);
    const page = await (await run.get('/')).text();
    expect(page).toContain('Taken back');
    expect(page).not.toContain('drained 28 L');
    expect(run.floor.taken.map(({ kind }) => kind)).toEqual(['message', 'edit', 'delete']);
  });

  it('keeps the time a message was typed without contact, never before the last contact', async () => {
    let now = '2025-03-04T10:30:00.000Z';
    const run = await start({ clock: () => now });
    const { contact } = (await (await run.get('/contact')).json()) as { contact: string };
    now = '2025-03-04T11:05:00.000Z';
    // The phone's clock runs 7 minutes ahead: it shows 10:47 when it is 10:40, and 11:12 when it is 11:05.
    const clocks = (typed: string) => ({
      typed: Date.parse(typed),
      sent: Date.parse('2025-03-04T11:12:00Z'),
      contact,
    });
    const send = (at: number, typed: string, more: object = {}) =>
      run.post(
        '/api/message',
        { ...message(id(at), `m${at}`), clocks: { ...clocks(typed), ...more } },
        'Sam',
      );
    await send(1, '2025-03-04T10:47:00Z');
    await send(2, '2025-03-04T08:00:00Z');
    await send(3, '2025-03-04T11:11:50Z');
    await send(4, '2025-03-04T10:47:00Z', { contact: '2025-03-04T07:00:00.000Z forged' });
    expect(run.floor.taken.map((taken) => (taken.kind === 'message' ? taken.typed : ''))).toEqual([
      '2025-03-04T10:40:00.000Z',
      '2025-03-04T10:30:00.000Z',
      undefined,
      undefined,
    ]);
    expect(await (await run.get('/')).text()).toContain('typed 10:40, arrived 11:05');
  });
});

describe('threads', () => {
  it('are after a restart as they were: cards, words, changes, signs', async () => {
    const run = await start({}, fakeView([job1042]));
    const thread = await openThread(run);
    await run.post('/api/message', message(id(1), 'drained 28 L', thread), 'Sam');
    await run.bench.sign({ ...YARD, thread }, `m-${id(1)}`, 'recorded');
    const flag = await run.bench.post(
      { ...YARD, thread },
      { text: 'Skipped: "Drain".', level: 'stop', blocks: [], actions: stopFlag.actions },
      'flag-1',
    );
    if (!flag.ok) throw new Error('The flag was not posted.');
    await run.bench.edit(flag.posted, { text: 'Withdrawn: drained before, at 09:40.', blocks: [] });
    await run.bench.edit(
      { message: thread, place: YARD },
      { text: 'Job 1042, 10 of 38 steps done.', title: 'Job 1042 sheet', blocks: [] },
    );
    await run.bench.pin?.({ message: thread, place: YARD });
    const roll = (page: string) => /<ol class="roll"[\s\S]*?<\/ol>/.exec(page)?.[0];
    const before = roll(await (await run.get('/job/1042', 'Sam')).text());
    expect(before).toContain('>noted</span>');
    expect(before).toContain('Withdrawn: drained before');
    expect(before).toContain('10 of 38 steps done');
    expect(before).not.toContain('Skipped:');
    const after = await run.again();
    running.push(after);
    expect(roll(await (await after.get('/job/1042', 'Sam')).text())).toBe(before);
    expect(await after.bench.find?.({ ...YARD, thread }, 'flag-1')).toEqual({
      message: flag.posted.message,
      place: { ...YARD, thread },
    });
    expect(await after.bench.find?.({ ...YARD, thread }, 'never posted')).toBeUndefined();
  });

  it('keep the jobs apart', async () => {
    const run = await start({}, fakeView([job1042, job1043]));
    const first = await openThread(run, '1042');
    const second = await openThread(run, '1043');
    await run.post('/api/message', message(id(1), 'only on the first', first), 'Sam');
    await run.post('/api/message', message(id(2), 'only on the second', second), 'Sam');
    const page = await (await run.get('/job/1042')).text();
    expect(page).toContain('only on the first');
    expect(page).not.toContain('only on the second');
  });

  it('shows a post for one person to that person only', async () => {
    const run = await start();
    await run.bench.post(
      { ...YARD, person: 'Sam' },
      { text: 'Who may release: Kim.', blocks: [] },
      'k',
    );
    expect(await (await run.get('/', 'Sam')).text()).toContain('Who may release: Kim.');
    expect(await (await run.get('/', 'Kim')).text()).not.toContain('Who may release: Kim.');
    expect(await (await run.get('/')).text()).not.toContain('Who may release: Kim.');
  });

  it('refuses posts to what is not there, and cannot be led out of the folder', async () => {
    const run = await start();
    for (const thread of ['p-none', '../yard', '..%2fyard', 'a/b']) {
      const posted = await run.bench.post({ ...YARD, thread }, { text: 'x', blocks: [] }, 'k');
      expect(posted).toMatchObject({ ok: false, failure: { kind: 'refused' } });
    }
    const answer = await run.post('/api/message', message(id(1), 'x', 'p-none'), 'Sam');
    expect(answer.status).toBe(404);
  });

  it('lives with a torn and a damaged log', async () => {
    const run = await start({}, fakeView([job1042]));
    const thread = await openThread(run);
    await run.post('/api/message', message(id(1), 'drained 28 L', thread), 'Sam');
    await run.bench.stop();
    const file = path.join(run.folder, 'threads', `${thread}.jsonl`);
    const text = await readFile(file, 'utf8');
    await writeFile(file, `garbage\n{"what":"unknown"}\n${text}{"what":"said","id":"m-x`);
    const after = await start({}, run.view, run.folder);
    expect(await (await after.get('/job/1042')).text()).toContain('drained 28 L');
    await after.bench.stop();
    running.length = 0;
    await after.bench.start(after.floor);
    running.push(after);
  });
});

describe('taps', () => {
  it('hand in the intent as JSON with its fields; a date gets the offset of the workshop', async () => {
    const run = await start();
    const intent = { do: 'override', job: '1042', flag: stopFlag.key };
    const body = {
      id: id(1),
      thread: null,
      intent,
      fields: { reason: 'seen drained', promised: '2025-06-01T16:00', plain: '2025-06-01T16:00' },
      times: ['promised'],
    };
    expect((await run.post('/api/tap', body, 'Kim')).status).toBe(200);
    const [tap] = run.floor.taken;
    expect(Delivery.parse(tap)).toMatchObject({
      kind: 'tap',
      person: 'Kim',
      // London is one hour ahead of UTC in June.
      fields: {
        reason: 'seen drained',
        promised: '2025-06-01T16:00:00+01:00',
        plain: '2025-06-01T16:00',
      },
    });
    expect(JSON.parse(tap?.kind === 'tap' ? tap.intent : '')).toEqual(intent);
  });

  it.each(['release', 'refuse'])(
    'hand in a %s from a card that asks nothing else',
    async (kind) => {
      const run = await start();
      const intent = { do: kind, job: '1042', step: 'strap', position: null, asked: true };
      const answer = await run.post('/api/tap', { id: id(1), thread: null, intent }, 'Kim');
      expect(answer.status).toBe(200);
      const [tap] = run.floor.taken;
      expect(JSON.parse(tap?.kind === 'tap' ? tap.intent : '')).toEqual(intent);
    },
  );

  it('shows the form the floor has for an intent, and none where there is none', async () => {
    const run = await start();
    const ask = { intent: { do: 'close-job', job: '1042' } };
    expect(await (await run.post('/api/form', ask, 'Kim')).json()).toEqual({ form: null });
    run.floor.form = { title: 'Close it?', submit: 'Close', fields: [] };
    const told = (await (await run.post('/api/form', ask, 'Kim')).json()) as { form: string };
    expect(told.form).toContain('Close it?');
  });
});

describe('what is wrong is answered', () => {
  const cases: readonly (readonly [string, string, unknown, number])[] = [
    ['100,000 characters', '/api/message', message(id(1), 'x'.repeat(100_000)), 413],
    ['an empty message', '/api/message', message(id(1), '  \n '), 400],
    ['an unknown key', '/api/message', { ...message(id(1), 'x'), role: 'controller' }, 400],
    ['a missing key', '/api/message', { id: id(1), text: 'x' }, 400],
    ['a wrong type', '/api/message', { ...message(id(1), 'x'), text: 5 }, 400],
    ['a thread that is a path', '/api/message', message(id(1), 'x', '../../etc'), 400],
    ['an id that is a path', '/api/message', message('../../../etc/x', 'x'), 400],
    ['an unknown intent', '/api/tap', { id: id(1), thread: null, intent: { do: 'erase' } }, 400],
    [
      'an intent with more',
      '/api/tap',
      { id: id(1), thread: null, intent: { do: 'open-job', x: 1 } },
      400,
    ],
    ['a list', '/api/message', [], 400],
    ['a person who is not there', '/api/who', { name: 'Mallory' }, 404],
    ['an address that is not there', '/api/none', {}, 404],
    ['an address of the object itself', '/constructor', {}, 404],
    ['a demonstration that is not offered', '/api/demo', {}, 404],
    ['a plan check that is not offered', '/api/plan-check', { text: '' }, 404],
  ];
  it.each(cases)('%s', async (_name, where, body, status) => {
    const run = await start();
    const answer = await run.post(where, body, 'Sam');
    expect(answer.status).toBe(status);
    const told = (await answer.json()) as { what: string; doThis: string };
    expect(told.what).toMatch(/^[A-Z"].*\.$/);
    expect(told.doThis).not.toBe('');
    expect(`${told.what}${told.doThis}`).not.toMatch(/!|\bat .*:\d+:\d+|undefined|Invalid/);
    expect(run.floor.taken).toEqual([]);
  });

  it('says how long a message may be', async () => {
    const run = await start();
    const answer = await run.post('/api/message', message(id(1), 'x'.repeat(4001)), 'Sam');
    expect(((await answer.json()) as { what: string }).what).toContain('4,000 characters');
    expect((await run.post('/api/message', message(id(2), 'x'.repeat(4000)), 'Sam')).status).toBe(
      200,
    );
  });

  it('breaks off a body without end', async () => {
    const run = await start();
    const status = await new Promise<number | undefined>((resolve, reject) => {
      const sending = request(
        new URL('/api/message', run.address),
        {
          method: 'POST',
          headers: { 'content-type': 'application/json', cookie: 'chargehand-who=Sam' },
        },
        (response) => {
          response.resume();
          resolve(response.statusCode);
        },
      );
      sending.on('error', (error: NodeJS.ErrnoException) =>
        error.code === 'EPIPE' || error.code === 'ECONNRESET' ? undefined : reject(error),
      );
      for (let at = 0; at < 20; at += 1) sending.write('x'.repeat(100_000));
    });
    expect(status).toBe(413);
  });

  it.each([
    ['text/plain', 415],
    ['application/json; charset=utf-8', 200],
  ])('a body of the type %s: %d', async (type, status) => {
    const run = await start();
    const answer = await fetch(new URL('/api/message', run.address), {
      method: 'POST',
      headers: { 'content-type': type, cookie: 'chargehand-who=Sam' },
      body: JSON.stringify(message(id(1), 'x')),
    });
    expect(answer.status).toBe(status);
  });

  it.each(['not json', '{"a":', '\u0000', '"text"', 'null'])('the body %j', async (body) => {
    const run = await start();
    const answer = await fetch(new URL('/api/message', run.address), {
      method: 'POST',
      headers: { 'content-type': 'application/json', cookie: 'chargehand-who=Sam' },
      body,
    });
    expect(answer.status).toBe(400);
  });

  it.each([
    '/job/9999',
    '/job/%',
    '/job/1042/none',
    '/none',
    '/page/../bench-channel.ts',
    '/page/none.js',
  ])('the page %s, as a page and as JSON', async (where) => {
    const run = await start();
    const page = await fetch(new URL(where, run.address), { headers: { accept: 'text/html' } });
    expect(page.status).toBe(404);
    expect(page.headers.get('content-type')).toContain('text/html');
    expect(await page.text()).toContain('<h1>');
    const json = await fetch(new URL(where, run.address));
    expect(await json.json()).toMatchObject({
      what: expect.any(String),
      doThis: expect.any(String),
    });
  });

  it('keeps a request that fails inside from telling why', async () => {
    const view = { ...fakeView(), openJobs: () => Promise.reject(new Error('secret path')) };
    const run = await start({}, view);
    const answer = await run.get('/');
    expect(answer.status).toBe(500);
    expect(await answer.text()).not.toContain('secret');
  });
});

describe('who may ask', () => {
  /** A raw request, since fetch does not let one choose the Host. */
  const raw = (run: BenchRun, method: string, where: string, headers: Record<string, string>) =>
    new Promise<number | undefined>((resolve, reject) => {
      const sending = request(new URL(where, run.address), { method, headers }, (response) => {
        response.resume();
        resolve(response.statusCode);
      });
      sending.on('error', reject);
      if (method === 'POST') sending.write(JSON.stringify(message(id(1), 'x')));
      sending.end();
    });

  it('answers its own names only, so that a foreign name cannot be pointed at it', async () => {
    const run = await start();
    const { port } = new URL(run.address);
    expect(await raw(run, 'GET', '/', { host: `localhost:${port}` })).toBe(200);
    expect(await raw(run, 'GET', '/', { host: 'workshop.example' })).toBe(421);
    expect(await raw(run, 'GET', '/', { host: `workshop.example:${port}` })).toBe(421);
    expect(await raw(run, 'GET', '/', { host: '127.0.0.1:1' })).toBe(421);
  });

  it("refuses what another site's page sends", async () => {
    const run = await start();
    const { host } = new URL(run.address);
    const json = { 'content-type': 'application/json', cookie: 'chargehand-who=Sam' };
    const from = (more: Record<string, string>) =>
      raw(run, 'POST', '/api/message', { ...json, ...more });
    expect(await from({ origin: 'http://evil.example' })).toBe(403);
    expect(await from({ origin: 'null' })).toBe(403);
    expect(await from({ origin: `https://${host}` })).toBe(403);
    expect(await from({ 'sec-fetch-site': 'cross-site' })).toBe(403);
    expect(run.floor.taken).toEqual([]);
    expect(await from({ origin: `http://${host}`, 'sec-fetch-site': 'same-origin' })).toBe(200);
    expect(await raw(run, 'GET', '/parts', { 'sec-fetch-site': 'cross-site' })).toBe(403);
  });

  it('sends a policy under which nothing foreign and nothing inline runs', async () => {
    const run = await start({}, fakeView([job1042]));
    for (const where of ['/', '/job/1042', '/job/1042/card', '/wall', '/open']) {
      const page = await run.get(where, 'Sam');
      const policy = page.headers.get('content-security-policy') ?? '';
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("script-src 'self';");
      expect(policy).toContain("frame-ancestors 'none'");
      expect(policy).not.toContain('unsafe');
      const text = await page.text();
      expect(text).not.toMatch(/ style="| on[a-z]+="|<style/);
      expect(text.match(/<script[^>]*>/g)).toEqual(['<script type="module" src="/page/bench.js">']);
      expect(text).not.toMatch(/(src|href)="(https?:)?\/\//);
    }
  });

  it('keeps the chosen name in a cookie that no script reads and no other site sends', async () => {
    const run = await start();
    const answer = await run.post('/api/who', { name: 'Sam' });
    expect(answer.headers.get('set-cookie')).toMatch(
      /^chargehand-who=Sam;.*HttpOnly; SameSite=Strict/,
    );
  });

  it('listens on this machine only', () => {
    const options = { folder: 'x', port: 0, host: '0.0.0.0', view: fakeView(), clock: () => NOW };
    expect(() => benchChannel(options)).toThrow(/no sign-in[\s\S]*127\.0\.0\.1/);
  });

  it('says when the port is taken', async () => {
    const run = await start();
    const port = Number(new URL(run.address).port);
    const folder = path.join(run.folder, 'second');
    const second = benchChannel({
      folder,
      port,
      host: '127.0.0.1',
      view: fakeView(),
      clock: () => NOW,
    });
    await expect(second.start(run.floor)).rejects.toThrow(
      /another program uses this port[\s\S]*--port and another number/,
    );
  });
});

describe('photos', () => {
  const JPEG = Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0, 16, 0x4a, 0x46, 0x49, 0x46]);
  const PHOTO = '0123456789abcdef0123456789abcdef';
  const send = (run: BenchRun, body: Uint8Array<ArrayBuffer>, as: string | null = PHOTO) =>
    fetch(new URL('/api/photo', run.address), {
      method: 'POST',
      headers: { cookie: 'chargehand-who=Sam', ...(as === null ? {} : { 'x-photo': as }) },
      body,
    });

  it('are kept, shown and handed in with their message', async () => {
    const run = await start();
    const { photo } = (await (await send(run, JPEG)).json()) as { photo: string };
    const said = { ...message(id(1), ''), photos: [photo] };
    expect((await run.post('/api/message', said, 'Sam')).status).toBe(200);
    expect(run.floor.taken[0]).toMatchObject({
      files: [{ name: photo, type: 'image/jpeg', bytes: JPEG.length, from: photo }],
    });
    expect(Buffer.from((await run.bench.fetch?.(photo, 1000)) ?? [])).toEqual(JPEG);
    await expect(run.bench.fetch?.(photo, 5)).rejects.toThrow(/smaller/);
    const shown = await run.get(`/photo/${photo}`);
    expect(shown.headers.get('content-type')).toBe('image/jpeg');
    expect(shown.headers.get('content-security-policy')).toContain('sandbox');
  });

  it('are kept once under the name the page gave them, however often they are sent', async () => {
    const run = await start();
    const first = await (await send(run, JPEG)).json();
    expect(await (await send(run, JPEG)).json()).toEqual(first);
    // What stands under a name is never written over.
    const other = Buffer.concat([JPEG, Buffer.from([1])]);
    expect((await send(run, other)).status).toBe(200);
    const { photo } = first as { photo: string };
    expect((await (await run.get(`/photo/${photo}`)).arrayBuffer()).byteLength).toBe(JPEG.length);
    for (const name of [null, '../../yard', 'short']) {
      expect((await send(run, JPEG, name)).status).toBe(400);
    }
  });

  it('are refused when they are no photo, whatever they are called', async () => {
    const run = await start();
    expect((await send(run, Buffer.from('<svg onload="alert(1)">'))).status).toBe(415);
    expect((await send(run, Buffer.alloc(6_000_001, 0xff))).status).toBe(413);
    expect((await run.get('/photo/..%2fyard.jsonl')).status).toBe(404);
    const said = { ...message(id(1), 'x'), photos: ['aaaaaaaa-none.jpg'] };
    expect((await run.post('/api/message', said, 'Sam')).status).toBe(404);
  });
});

describe('live news', () => {
  /** Reads events until `count` are there. */
  const listen = async (run: BenchRun, query: string, count: number, last?: string) => {
    const stop = new AbortController();
    const response = await fetch(new URL(`/live?${query}`, run.address), {
      signal: stop.signal,
      headers: {
        cookie: 'chargehand-who=Sam',
        ...(last === undefined ? {} : { 'last-event-id': last }),
      },
    });
    const reader = response.body?.getReader();
    const read = (async () => {
      let text = '';
      while ((text.match(/\n\n/g) ?? []).length < count + 1) {
        const piece = await reader?.read();
        if (piece === undefined || piece.done) break;
        text += new TextDecoder().decode(piece.value);
      }
      stop.abort();
      return text
        .split('\n\n')
        .filter((event) => event.includes('event:'))
        .map((event) => ({
          id: /^id: (.*)$/m.exec(event)?.[1] ?? '',
          event: /^event: (.*)$/m.exec(event)?.[1] ?? '',
          data: JSON.parse(/^data: (.*)$/m.exec(event)?.[1] ?? 'null') as Record<string, string>,
        }));
    })();
    return read;
  };
  const sinceOf = (page: string) => /data-since="([^"]*)"/.exec(page)?.[1] ?? '';

  it('tell every page of new lines and of changed jobs', async () => {
    const run = await start({}, fakeView([job1042]));
    const thread = await openThread(run);
    const since = sinceOf(await (await run.get('/job/1042', 'Sam')).text());
    const heard = listen(run, `thread=${thread}&since=${since}`, 3);
    await run.post('/api/message', message(id(1), 'not for this thread'), 'Kim');
    await run.post('/api/message', message(id(2), 'drained <b>28</b> L', thread), 'Kim');
    await run.bench.sign({ ...YARD, thread }, `m-${id(2)}`, 'recorded');
    run.view.put({ ...job1042, flags: [stopFlag] });
    const events = await heard;
    expect(events.map(({ event }) => event)).toEqual(['entry', 'entry', 'job']);
    expect(events[0]?.data.html).toContain('drained &lt;b&gt;28&lt;/b&gt; L');
    expect(events[1]?.data.html).toContain('noted');
    expect(events[2]?.data).toEqual({ job: '1042' });
  });

  it('give a page that was away what it missed, once', async () => {
    const run = await start();
    const since = sinceOf(await (await run.get('/', 'Sam')).text());
    await run.post('/api/message', message(id(1), 'first'), 'Kim');
    await run.post('/api/message', message(id(2), 'second'), 'Kim');
    const events = await listen(run, `since=${since}`, 2);
    expect(events.map(({ data }) => data.id)).toEqual([`m-${id(1)}`, `m-${id(2)}`]);
    const later = await listen(run, `since=${since}`, 1, events[0]?.id);
    expect(later.map(({ data }) => data.id)).toEqual([`m-${id(2)}`]);
  });

  it('tell a page from before a restart to load everything again', async () => {
    const run = await start();
    const events = await listen(run, 'since=00000000.4', 1);
    expect(events.map(({ event }) => event)).toEqual(['again']);
  });

  it('keep what is for one person from the others', async () => {
    const run = await start();
    const since = sinceOf(await (await run.get('/', 'Sam')).text());
    await run.bench.post({ ...YARD, person: 'Kim' }, { text: 'for Kim', blocks: [] }, 'a');
    await run.bench.post(YARD, { text: 'for all', blocks: [] }, 'b');
    const events = await listen(run, `since=${since}`, 1);
    expect(events[0]?.data.html).toContain('for all');
  });
});
