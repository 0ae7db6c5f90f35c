// How fast the bench page opens and scrolls with 200 open jobs, and with a thread of 2,000 messages, in Debian's
// Chromium beside the bench on the same machine. The peer in the same run is a bare page of as many bytes.
import { appendFile, mkdtemp, rm } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { benchChannel } from '../../src/chat/bench/bench-channel.ts';
import { benchViewOf } from '../../src/floor/bench-jobs.ts';
import { hasChromium, openBrowser } from '../chat/bench/browser.ts';
import { floorOn, message, pump } from '../floor/workshop-floor.ts';

const JOBS = 200;
const MESSAGES = 2_000;
const ROUNDS = 5;

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
const ms = (value: number): string => `${Math.round(value)} ms`.padStart(8);

type Opened = { readonly server: number; readonly shown: number; readonly scrolled: number };

/** Milliseconds from the click to the first bytes, to the page being drawn, and of a scroll through all of it. */
const opened = async (page: Page, url: string): Promise<Opened> => {
  await page.goto(url, { waitUntil: 'load' });
  return page.evaluate<Opened>(`(async () => {
    const frame = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
    await frame();
    const { responseStart, startTime } = performance.getEntriesByType('navigation')[0];
    const shown = performance.now() - startTime;
    const parts = [document.scrollingElement, ...document.querySelectorAll('.column, .roll-paper')];
    const part = parts.sort((a, b) => b.scrollHeight - a.scrollHeight)[0];
    const begin = performance.now();
    for (let step = 0; step <= 20; step += 1) {
      part.scrollTop = (part.scrollHeight * step) / 20;
      await frame();
    }
    return { server: responseStart - startTime, shown, scrolled: performance.now() - begin };
  })()`);
};

const print = (name: string, rounds: readonly Opened[]): void => {
  const of = (pick: (one: Opened) => number): string => ms(median(rounds.map(pick)));
  console.log(
    `  ${name.padEnd(46)} first bytes ${of(({ server }) => server)}, drawn ${of(({ shown }) => shown)}, scrolled from end to end in 20 steps ${of(({ scrolled }) => scrolled)}`,
  );
};

/** A bare page with as many bytes of plain lines. */
const bareAddress = async (bytes: number): Promise<{ url: string; close: () => void }> => {
  const line = '<p>drained 28 L, cap off, 6 clips off, hose 2 off</p>\n';
  const body = `<!doctype html><title>bare</title>${line.repeat(Math.ceil(bytes / line.length))}`;
  const server = createServer((_, response) =>
    response.setHeader('content-type', 'text/html').end(body),
  );
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const { port } = server.address() as AddressInfo;
  return { url: `http://127.0.0.1:${port}/`, close: () => server.close() };
};

const measure = async (browser: Browser, name: string, url: string): Promise<void> => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  await context.addCookies([{ name: 'chargehand-who', value: 'Robin', url }]);
  const page = await context.newPage();
  const rounds: Opened[] = [];
  for (let round = 0; round < ROUNDS; round += 1) rounds.push(await opened(page, url));
  print(name, rounds);
  await context.close();
};

export const run = async (): Promise<void> => {
  if (!hasChromium) {
    console.log('  left out: there is no /usr/bin/chromium here');
    return;
  }
  const folder = await mkdtemp(join(tmpdir(), 'bench-page-'));
  let floor: Awaited<ReturnType<typeof floorOn>> | undefined;
  const need = () => {
    if (!floor) throw new Error('The floor is not made yet.');
    return floor.running;
  };
  const bench = benchChannel({
    folder: join(folder, 'bench'),
    port: 0,
    host: '127.0.0.1',
    clock: () => new Date(Date.parse('2026-03-10T07:00:00.000Z')).toISOString(),
    view: benchViewOf(
      () => need().floor,
      (listener) => floor?.running.onChange(listener) ?? (() => undefined),
    ),
    threadOf: async (job) => (await need().floor.shelved(job))?.threads[0]?.thread,
  });
  const keeping = { channel: bench };
  floor = await floorOn(join(folder, 'jobs'), [keeping as never], '2026-03-10T07:00:00.000Z');
  const browser = await openBrowser();
  try {
    const { running } = floor;
    for (let job = 0; job < JOBS; job += 1) {
      const text = `open job ${2000 + job} bus ${job} ${pump.title} tech Ada`;
      await bench.handIn(message(`open-${job}`, 'Robin', text, { message: `m-open-${job}` }));
    }
    for (let looks = 0; looks < 2000 && running.backlog() > 0; looks += 1)
      await new Promise((done) => setTimeout(done, 10));
    await running.idle();
    const thread = (await running.floor.shelved('2000'))?.threads[0]?.thread ?? '';
    // Put into the thread's file by hand: opening a page is measured here, and not reading 2,000 messages.
    await bench.stop();
    const said = Array.from({ length: MESSAGES }, (_, number) =>
      JSON.stringify({
        what: 'said',
        id: `m-talk-${number}`,
        client: `talk-${number}`,
        at: '2026-03-10T07:00:00.000Z',
        by: 'Ada',
        text: `cap off, hose ${number} off, drained ${number % 30} L so far and no leak seen`,
      }),
    );
    await appendFile(join(folder, 'bench', 'threads', `${thread}.jsonl`), `${said.join('\n')}\n`);
    await bench.start(running.intake);
    const base = bench.address();
    const bytes = (await (await fetch(base)).text()).length;
    console.log(
      `The bench page with ${JOBS} open jobs (${Math.round(bytes / 1000)} kB) and a thread of ${MESSAGES.toLocaleString('en')} messages, median of ${ROUNDS}:`,
    );
    await measure(browser, `the yard with ${JOBS} open jobs`, base);
    await measure(browser, 'the thread as it opens', `${base}job/2000`);
    await measure(browser, `the thread with all ${MESSAGES} messages`, `${base}job/2000?all=yes`);
    const bare = await bareAddress(bytes);
    await measure(browser, 'a bare page with as many bytes as the yard', bare.url);
    bare.close();
  } finally {
    await browser.close();
    await floor.running.stop();
    await rm(folder, { recursive: true, force: true });
  }
};

if (process.argv[1] === import.meta.filename) await run();
