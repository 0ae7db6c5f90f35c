// The page in a real browser: a phone in the pit, the controller's screen, the wall, a keyboard alone.

import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { BenchPlanDesk } from '../../../src/chat/bench/bench-view.ts';
import { axeFindings } from './axe.ts';
import { type BenchRun, openThread, runBench, YARD } from './bench-run.ts';
import { hasChromium, openBrowser, openPage } from './browser.ts';
import { cautionFlag, fakeView, job1042, job1043, stopFlag } from './fake-view.ts';

const title = hasChromium ? 'the page' : 'the page (left out: there is no /usr/bin/chromium here)';

/** A desk with one plan, which takes everything. */
const PLAN_DESK: BenchPlanDesk = {
  samples: () => [{ plan: 'first', title: 'A short plan' }],
  textOf: () => 'steps: []',
  tryOut: () => [],
  save: async () => ({ ok: true, plan: 'first', title: 'A short plan', says: 'Saved.' }),
};

describe.skipIf(!hasChromium)(title, () => {
  let browser: Browser;
  const running: BenchRun[] = [];
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser?.close());
  afterEach(async () => {
    for (const context of browser.contexts()) await context.close();
    for (const run of running.splice(0)) await run.end();
  });
  const start = async (...given: Parameters<typeof runBench>) => {
    const run = await runBench(...given);
    running.push(run);
    return run;
  };

  it('takes a technician at 360 px from the name to a noted report', async () => {
    const run = await start({}, fakeView([job1042, job1043]));
    const thread = await openThread(run);
    const { page, complaints } = await openPage(browser, run, '/');
    await page.getByRole('button', { name: 'Choose who is posting' }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Sam' }).click();
    await page.getByText('posting as, not proved').waitFor();
    await page.getByRole('link', { name: 'Job 1042, Bus 27, city 12 m' }).click();
    await page.waitForURL(/\/job\/1042$/);
    const words = page.getByLabel('Your message, posted as Sam');
    await words.fill('battery off');
    await page.getByRole('button', { name: 'Send', exact: true }).click();
    const line = page.locator('.line.said', { hasText: 'battery off' });
    await expect.poll(() => line.count()).toBe(1);
    const [taken] = run.floor.taken;
    expect(taken).toMatchObject({ kind: 'message', text: 'battery off', thread, person: 'Sam' });
    const before = await line.boundingBox();
    await run.bench.sign(
      { ...YARD, thread },
      taken?.kind === 'message' ? taken.message : '',
      'recorded',
    );
    await line.getByText('noted').waitFor();
    // The stamp has its place: nothing moves when it comes.
    expect(await line.boundingBox()).toEqual(before);

    // One tap on the next step asks for the figure it needs, and reports it in words.
    await page.getByRole('button', { name: /^Drain the coolant/ }).click();
    const figure = page.getByLabel('Litres drained, in L');
    expect(await figure.getAttribute('inputmode')).toBe('decimal');
    await figure.fill('a lot');
    await page.getByRole('button', { name: 'Report it' }).click();
    await page.getByText('"a lot" is no figure.').waitFor();
    await figure.fill('28');
    await page.getByRole('button', { name: 'Report it' }).click();
    await expect
      .poll(() =>
        run.floor.taken.map((delivery) => (delivery.kind === 'message' ? delivery.text : '')),
      )
      .toEqual(['battery off', 'Drain the coolant done 28 L']);
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(360);
    expect(complaints).toEqual([]);
  });

  it('amends and takes back a message', async () => {
    const run = await start({}, fakeView([job1042]));
    await openThread(run);
    const { page } = await openPage(browser, run, '/job/1042', { who: 'Sam' });
    await page.getByLabel('Your message').fill('drained 18 L');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Amend or take back: drained 18 L' }).click();
    await page.getByLabel('Your words').fill('drained 28 L');
    await page.getByRole('button', { name: 'Change the words' }).click();
    await page.getByRole('button', { name: 'Amend or take back: drained 28 L' }).click();
    await page.getByRole('button', { name: 'Take it back' }).click();
    await page.getByText('Taken back', { exact: true }).waitFor();
    expect(run.floor.taken.map(({ kind }) => kind)).toEqual(['message', 'edit', 'delete']);
  });

  it('tells a flag aloud on every open page, and nothing moves when it arrives', async () => {
    const run = await start({}, fakeView([job1042, job1043]));
    await openThread(run);
    const phone = await openPage(browser, run, '/job/1042', { who: 'Sam' });
    const screen = await openPage(browser, run, '/', { who: 'Kim', width: 1920, height: 1080 });
    const wall = await openPage(browser, run, '/wall', { width: 1920, height: 1080 });
    const small = await openPage(browser, run, '/', { who: 'Sam' });
    const pages = [phone.page, screen.page, wall.page, small.page];
    for (const page of pages) {
      await page.waitForLoadState('networkidle').catch(() => {});
      await page.evaluate(`
        window.moved = [];
        new PerformanceObserver((list) => {
          for (const shift of list.getEntries()) {
            moved.push(...shift.sources.map(({ node }) => node?.outerHTML?.slice(0, 80)));
          }
        }).observe({ type: 'layout-shift' });
      `);
    }
    run.view.put({ ...job1042, flags: [stopFlag, cautionFlag] });
    for (const page of pages) {
      const told = page.locator('#tell-now[role=alert]');
      await expect
        .poll(() => told.textContent())
        .toMatch(/^Stop\. Job 1042\. Skipped: "Drain the coolant"/);
      await expect
        .poll(() => page.locator('#tell[aria-live=polite]').textContent())
        .toMatch(/^Caution\. Job 1042\. Count short/);
    }
    for (const page of [phone.page, screen.page, small.page]) {
      await page.getByRole('button', { name: /1 stop, 1 caution/ }).waitFor();
      await page.evaluate(
        'new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))',
      );
      expect(await page.evaluate('moved')).toEqual([]);
    }
    expect(await screen.page.title()).toMatch(/^1 stop · The yard/);
    // Settled: it leaves every page again.
    run.view.put(job1042);
    await phone.page.getByText('No flags standing on this job').waitFor();
    await screen.page.getByText('No flags standing').waitFor();
    expect(await screen.page.title()).toMatch(/^The yard/);
  });

  it('leads from the first tab to the message, from the second to the flags', async () => {
    const run = await start({}, fakeView([{ ...job1042, flags: [stopFlag] }]));
    await openThread(run);
    const { page } = await openPage(browser, run, '/job/1042', { who: 'Sam' });
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await expect.poll(() => page.evaluate('document.activeElement?.id')).toBe('words');
    await page.reload();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await expect.poll(() => page.evaluate('document.activeElement?.id')).toBe('rail');
  });

  it('releases with a reason from the flag, by keyboard alone', async () => {
    const run = await start({}, fakeView([{ ...job1042, flags: [stopFlag] }]));
    await openThread(run);
    const { page } = await openPage(browser, run, '/', { width: 1280, height: 800 });
    const focusOn = async (name: RegExp) => {
      for (let presses = 0; presses < 40; presses += 1) {
        await page.keyboard.press('Tab');
        const focused = await page.evaluate<string>(`
          [
            document.activeElement?.getAttribute('aria-label'),
            document.activeElement?.labels?.[0]?.textContent,
            document.activeElement?.textContent,
          ].join('').trim()
        `);
        if (name.test(focused)) return;
      }
      throw new Error(`The keyboard does not reach ${name}.`);
    };
    await focusOn(/^To the main part$/);
    const skip = page.locator('.skip[href="#main"]');
    await expect.poll(async () => (await skip.boundingBox())?.y ?? -1).toBeGreaterThanOrEqual(0);
    await focusOn(/posting as/);
    await page.keyboard.press('Enter');
    await focusOn(/^Kim$/);
    await Promise.all([page.waitForNavigation(), page.keyboard.press('Enter')]);
    await focusOn(/^1 stop/);
    await page.keyboard.press('Enter');
    await focusOn(/^Release with a reason$/);
    expect(await page.evaluate('getComputedStyle(document.activeElement).outlineStyle')).toBe(
      'solid',
    );
    await page.keyboard.press('Enter');
    await focusOn(/^Reason/);
    await page.keyboard.type('Seen drained by me');
    await focusOn(/^Release$/);
    await page.keyboard.press('Enter');
    await expect.poll(() => run.floor.taken.length).toBe(1);
    expect(run.floor.taken[0]).toMatchObject({
      kind: 'tap',
      person: 'Kim',
      fields: { reason: 'Seen drained by me' },
    });
    await expect.poll(() => page.locator('dialog[open]').count()).toBe(0);
    await focusOn(/^Your message/);
    await page.keyboard.type('released');
    await page.keyboard.press('Enter');
    await expect.poll(() => run.floor.taken.length).toBe(2);
  });

  it('opens a job with the form', async () => {
    const run = await start();
    const { page, complaints } = await openPage(browser, run, '/', { who: 'Kim' });
    await page.getByRole('link', { name: 'Open a first job' }).click();
    await page.getByLabel('Job number').fill('1050');
    await page.getByLabel('Vehicle').fill('Bus 9 <b>');
    await page.getByLabel('Plan', { exact: true }).selectOption('renew-coolant-pump');
    await page.getByLabel('cylinder 2').check();
    await page.getByLabel('Promised').fill('2025-03-04T16:00');
    await page.getByRole('button', { name: 'Open it' }).click();
    await expect.poll(() => run.floor.taken.length).toBe(1);
    expect(run.floor.taken[0]).toMatchObject({
      kind: 'tap',
      intent: '{"do":"open-job"}',
      fields: {
        job: '1050',
        vehicle: 'Bus 9 <b>',
        plan: 'renew-coolant-pump',
        positions: ['cylinder 2'],
        promised: '2025-03-04T16:00:00+00:00',
      },
    });
    expect(complaints).toEqual([]);
  });

  it('keeps what is typed without contact, over a reload, and sends it once with its time', async () => {
    let now = '2025-03-04T10:00:00.000Z';
    const run = await runBench({ clock: () => now }, fakeView([job1042]));
    await openThread(run);
    const { page } = await openPage(browser, run, '/job/1042', { who: 'Sam' });
    await page.evaluate('navigator.serviceWorker.ready.then(() => true)');
    await page.clock.install();
    // Once more, now that the page passes through the worker that keeps it.
    await page.reload();
    await page.getByText('in contact').waitFor();
    const { port } = new URL(run.address);
    await run.bench.stop();
    await page.getByText(/No contact since/).waitFor({ timeout: 15_000 });
    await page.getByLabel('Your message').fill('drained 28 L');
    await page.keyboard.press('Enter');
    await page.getByText('waiting for contact; kept on this device').waitFor();
    await page.reload();
    await page.locator('.line.waiting', { hasText: 'drained 28 L' }).waitFor();
    // Twenty minutes in the pit, by the phone's clock; the bench's clock agrees within a minute.
    await page.clock.fastForward(20 * 60_000);
    now = '2025-03-04T10:25:00.000Z';
    const after = await runBench({ clock: () => now, port: Number(port) }, run.view, run.folder);
    running.push(after);
    await expect.poll(() => after.floor.taken.length, { timeout: 20_000 }).toBe(1);
    await expect.poll(() => page.locator('.line', { hasText: 'drained 28 L' }).count()).toBe(1);
    await expect.poll(() => page.locator('.line.waiting').count()).toBe(0);
    await page.getByText(/typed 10:0\d, arrived 10:25/).waitFor();
    expect(after.floor.taken).toHaveLength(1);
    const [taken] = after.floor.taken;
    expect(taken).toMatchObject({ text: 'drained 28 L', at: now });
    expect(taken?.kind === 'message' ? taken.typed : '').toMatch(/^2025-03-04T10:0[345]:/);
  });

  it('says on the wall when contact is lost', async () => {
    const run = await start({}, fakeView([job1042]));
    const { page } = await openPage(browser, run, '/wall', { width: 1920, height: 1080 });
    expect(await page.locator('button, a, input, textarea, select').count()).toBe(0);
    await run.bench.stop();
    await page.getByText(/No contact since \d\d:\d\d/).waitFor({ timeout: 15_000 });
    await run.bench.start(run.floor);
  });

  it('shows whole rows on the wall, and lets the others take turns', async () => {
    const jobs = Array.from({ length: 9 }, (_, at) => ({
      ...job1042,
      job: String(2000 + at),
      flags: [stopFlag],
    }));
    const run = await start({}, fakeView(jobs));
    const context = await browser.newContext({ viewport: { width: 1920, height: 1080 } });
    const page = await context.newPage();
    await page.clock.install();
    await page.goto(new URL('/wall', run.address).href);
    const shown = () =>
      page.evaluate<string[]>(`
        [...document.querySelectorAll('.wall-row')]
          .filter((row) => row.getBoundingClientRect().height > 0)
          .map((row) => {
            if (row.getBoundingClientRect().bottom > innerHeight) throw new Error('A row is cut.');
            return row.querySelector('.bay-no').textContent;
          })
      `);
    await page.getByText(/^Sheet 1 of \d$/).waitFor();
    const seen = new Set(await shown());
    expect(seen.has('2000')).toBe(true);
    expect(seen.size).toBeLessThan(9);
    for (let turn = 0; turn < 9 && seen.size < 9; turn += 1) {
      await page.clock.fastForward(15_000);
      for (const job of await shown()) seen.add(job);
    }
    expect([...seen].sort()).toEqual(jobs.map(({ job }) => job));
  });

  it('shows complaints about a plan at their lines while one types', async () => {
    const planCheck = (text: string) =>
      text.includes('drian')
        ? [{ line: 2, what: '"drian" is no step.', expected: 'a step', mend: 'Write "drain".' }]
        : [];
    const run = await start({ planCheck });
    const { page } = await openPage(browser, run, '/plans');
    const text = page.getByLabel('The plan, in YAML');
    await text.fill('steps:\n  after: drian\n');
    await page.getByRole('button', { name: 'Line 2' }).click();
    expect(
      await page.evaluate(
        '{ const t = document.activeElement; t.value.slice(t.selectionStart, t.selectionEnd) }',
      ),
    ).toBe('  after: drian');
    await text.fill('steps:\n');
    await page.getByText('No complaints.').waitFor();
  });

  it('has targets of at least 44 px for a glove', async () => {
    const run = await start({}, fakeView([{ ...job1042, flags: [stopFlag] }, job1043]));
    const thread = await openThread(run);
    await run.post('/api/message', { id: 'aaaaaaaa1', thread, text: 'x' }, 'Sam');
    for (const where of ['/', '/job/1042', '/job/1042/card', '/open']) {
      const { page, context } = await openPage(browser, run, where, { who: 'Sam' });
      const small = await page.evaluate(`
        [...document.querySelectorAll(
          'button, .act, .bay-title a, .card-link, select, input:not(.hidden, [type=checkbox]), textarea, .press span',
        )].flatMap((found) => {
          const { width, height } = found.getBoundingClientRect();
          const isShown = width > 0 && found.closest('dialog:not([open])') === null;
          return isShown && (width < 44 || height < 44)
            ? [found.className + ' ' + found.textContent + ': ' + width + ' x ' + height]
            : [];
        })
      `);
      expect(small, where).toEqual([]);
      await context.close();
    }
  });

  const views = [
    '/',
    '/job/1042',
    '/job/1042/card',
    '/job/1042/tightening',
    '/job/1042/handover',
    '/wall',
    '/open',
    '/plans',
    '/none',
  ] as const;
  /** The views that a wide screen lays out in another way. */
  const WIDE_VIEWS = ['/', '/job/1042', '/wall', '/plans'] as const;
  const cases = (['light', 'dark'] as const).flatMap((theme) =>
    ([360, 1920] as const).map((width) => ({ theme, width })),
  );
  it.each(cases)(
    'has no findings of axe-core: $theme, $width px',
    async ({ theme, width }) => {
      const flags = [stopFlag, cautionFlag, { ...cautionFlag, key: 'a', level: 'advice' as const }];
      const run = await start(
        { planCheck: () => [], planDesk: PLAN_DESK, loadDemo: async () => {} },
        fakeView([{ ...job1042, flags }, job1043]),
      );
      const thread = await openThread(run);
      await run.post('/api/message', { id: 'aaaaaaaa1', thread, text: 'drained 28 L' }, 'Sam');
      await run.bench.sign({ ...YARD, thread }, 'm-aaaaaaaa1', 'recorded');
      await run.bench.post(
        { ...YARD, thread },
        {
          text: stopFlag.says,
          title: 'Skipped',
          level: 'stop',
          blocks: [],
          actions: stopFlag.actions,
        },
        'k',
      );
      const empty = await start({ planCheck: () => [], loadDemo: async () => {} });
      const findings: unknown[] = [];
      const look = async (of: BenchRun, where: string, open?: string, press?: string) => {
        const { page, context } = await openPage(browser, of, where, { theme, width, who: 'Kim' });
        if (open !== undefined) {
          await page.locator(`button[data-open="${open}"]`).first().click();
        }
        if (press !== undefined) {
          await page.getByRole('button', { name: press }).click();
          await page.locator('dialog[open]').waitFor();
        }
        const found = await axeFindings(page);
        findings.push(...found.map((finding) => ({ where, open, ...finding })));
        await context.close();
      };
      for (const where of width === 360 ? views : WIDE_VIEWS) await look(run, where);
      if (width !== 360) {
        expect(findings).toEqual([]);
        return;
      }
      await look(empty, '/');
      for (const open of ['flags', 'who', 'all-next']) await look(run, '/job/1042', open);
      await look(run, '/', undefined, 'Settle or close: job 1042');
      expect(findings).toEqual([]);
    },
    180_000,
  );
});
