// Makes the README's picture of the bench page: `node --import tsx test/docs/picture.ts`. Needs Debian's chromium.
// A job of its own is opened on a bench in a temporary folder and messages are posted to it; then two windows are drawn.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pino from 'pino';
import { chromium } from 'playwright-core';
import { tick } from '../../src/desk/turn/tick.ts';
import { startWorkshop } from '../../src/main.ts';
import { ROOT } from '../layout/sources.ts';

const MESSAGES = [
  'handbrake on, wheels chocked',
  'engine stone cold, coolant temp 22 deg',
  'battery isolated',
  'cap off',
  'drained 26 L of coolant',
  'fan cowl off',
];
const SKIPS = ['morning', 'wheel nuts cracked off 90 deg front left'];

const folder = mkdtempSync(join(tmpdir(), 'chargehand-picture-'));
let now = Date.parse('2026-03-10T07:02:00Z');
const started = await startWorkshop({
  folder,
  port: 0,
  env: {},
  clock: () => new Date(now).toISOString(),
  logger: pino({ level: 'silent' }),
});
const browser = await chromium.launch({
  executablePath: '/usr/bin/chromium',
  args: [
    '--headless',
    '--no-sandbox',
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
  ],
});
try {
  const base = started.address ?? '';
  const page = await browser.newPage({ viewport: { width: 1100, height: 720 } });
  let number = 0;
  const as = (name: string) => page.request.post(`${base}api/who`, { data: { name } });
  const say = async (text: string, thread: string | null): Promise<void> => {
    number += 1;
    await page.request.post(`${base}api/message`, {
      data: { id: `picture-${String(number).padStart(4, '0')}`, thread, text },
    });
    await started.running.idle();
    now += 6 * 60_000;
  };
  const threadOf = async (job: string): Promise<string> => {
    for (let looks = 0; looks < 100; looks += 1) {
      const thread = (await started.running.floor.shelved(job))?.threads[0]?.thread;
      if (thread) return thread;
      await new Promise((done) => setTimeout(done, 50));
    }
    throw new Error(`Job ${job} was not opened.`);
  };
  await as('Wen');
  await say(
    'open job 1042 bus 417 coolant pump 412350 km tech Nell promised today 15:00 complaint losing coolant',
    null,
  );
  await say(
    'open job 1043 coach 88 hub bearing front left 287904 km tech Jorn promised today 17:00',
    null,
  );
  await as('Nell');
  const first = await threadOf('1042');
  for (const text of MESSAGES) await say(text, first);
  await as('Jorn');
  const second = await threadOf('1043');
  for (const text of SKIPS) await say(text, second);
  await started.running.floor.onJob('1043', undefined, (before, moment) =>
    tick(before.state, moment),
  );
  await page.waitForTimeout(1000);
  await as('Wen');
  await page.goto(`${base}job/1043`);
  await page.waitForTimeout(800);
  const wide = (await page.screenshot()).toString('base64');
  await page.setViewportSize({ width: 360, height: 720 });
  await as('Jorn');
  await page.goto(`${base}job/1043`);
  await page.waitForTimeout(800);
  const phone = (await page.screenshot()).toString('base64');
  const both = await browser.newPage({ viewport: { width: 1508, height: 752 } });
  await both.setContent(
    `<body style="margin:0;padding:16px;display:flex;gap:16px;background:#8b8b86">${[phone, wide].map((picture) => `<img alt="" src="data:image/png;base64,${picture}" style="display:block;height:720px">`).join('')}</body>`,
  );
  await both.waitForTimeout(300);
  writeFileSync(join(ROOT, 'data/demo/bench-page.png'), await both.screenshot());
} finally {
  await browser.close();
  await started.stop();
  rmSync(folder, { recursive: true, force: true });
}
