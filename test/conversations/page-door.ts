// People at the bench page itself, each in a browser of their own: they type into the composer and tap the buttons.
import type { Browser, BrowserContext, Page } from 'playwright-core';
import type { Action } from '../../src/desk/card.ts';
import { openBrowser } from '../chat/bench/browser.ts';
import { benchDoor } from './bench-door.ts';
import type { MakeDoor } from './floor-stage.ts';

type Hands = { readonly context: BrowserContext; readonly page: Page; at: string };

export type Pages = {
  readonly door: MakeDoor;
  /** Taps that the page did not offer to the person, sent all the same as a forged page would: label and name. */
  readonly notOffered: readonly string[];
  readonly close: () => Promise<void>;
};

/** One browser for every conversation; one window for each person of one. */
export const openPages = async (): Promise<Pages> => {
  const browser = await openBrowser();
  const notOffered: string[] = [];
  return { door: pageDoor(browser, notOffered), notOffered, close: () => browser.close() };
};

/** How long people wait for something to be seen, in milliseconds. */
const PATIENCE = 10_000;

const placeOf = (thread: string | undefined, job: string): string =>
  thread === undefined ? '/' : `/job/${encodeURIComponent(job)}`;

/** What people said that the page shows as taken in. */
const linesOn = (
  page: Page,
): Promise<readonly { readonly id: string; readonly words: string | undefined }[]> =>
  page.locator('li.said[id^="e-m-"]').evaluateAll((all) =>
    all.map((each) => ({
      id: each.id,
      words: each.querySelector('.text')?.textContent ?? undefined,
    })),
  );

const pageDoor =
  (browser: Browser, notOffered: string[]): MakeDoor =>
  async (parts) => {
    // The bench itself, and how a forged page would send.
    const plain = await benchDoor(parts);
    const { channel } = plain;
    const address = (): string => ('address' in channel ? (channel.address as () => string)() : '');
    const people = new Map<string, Hands>();

    const jobs = new Map<string, string>();
    const jobOf = async (thread: string): Promise<string> => {
      const known = jobs.get(thread);
      if (known !== undefined) return known;
      const { floor } = parts.running();
      for (const job of floor.jobNumbers()) {
        const found = await floor.shelved(job);
        if (found?.threads.some((each) => each.thread === thread)) {
          jobs.set(thread, job);
          return job;
        }
      }
      throw new Error(`No job has the thread ${thread}.`);
    };

    const handsOf = async (by: string): Promise<Hands> => {
      const known = people.get(by);
      if (known) return known;
      const context = await browser.newContext({
        viewport: { width: 420, height: 800 },
        serviceWorkers: 'block',
      });
      await context.addCookies([
        { name: 'chargehand-who', value: encodeURIComponent(by), url: address() },
      ]);
      const page = await context.newPage();
      page.setDefaultTimeout(PATIENCE);
      const made: Hands = { context, page, at: '' };
      people.set(by, made);
      return made;
    };

    /** Their window at the yard or at a job's thread. */
    const at = async (by: string, thread: string | undefined, anew = false): Promise<Page> => {
      const hands = await handsOf(by);
      const where = placeOf(thread, thread === undefined ? '' : await jobOf(thread));
      if (hands.at !== where || anew) {
        await hands.page.goto(new URL(where, address()).href, { waitUntil: 'load' });
        hands.at = where;
      }
      return hands.page;
    };

    const buttonOf = async (
      page: Page,
      message: string,
      action: Action,
    ): Promise<ReturnType<Page['locator']> | undefined> => {
      const buttons = page.locator(`#e-${message} button[data-tap]`);
      const wanted = JSON.stringify(action.intent);
      const taps = await buttons.evaluateAll((all) =>
        all.map((each) => each.getAttribute('data-tap')),
      );
      const index = taps.indexOf(wanted);
      return index < 0 ? undefined : buttons.nth(index);
    };

    const tapped = (page: Page) =>
      page.waitForResponse((response) => response.url().endsWith('/api/tap'));

    return {
      channel,
      home: plain.home,
      post: async (by, text, thread) => {
        const page = await at(by, thread);
        const before = (await linesOn(page)).map(({ id }) => id);
        await page.locator('#words').fill(text);
        await page.locator('#words').press('Enter');
        const taken = async (): Promise<string | undefined> =>
          (await linesOn(page)).find(({ id, words }) => !before.includes(id) && words === text)?.id;
        for (let looks = 0; looks < PATIENCE / 20; looks += 1) {
          const id = await taken();
          if (id !== undefined) return id.slice('e-'.length);
          await page.waitForTimeout(20);
        }
        throw new Error(`"${text}" by ${by} was not taken: ${await page.textContent('.dock')}`);
      },
      edit: async (by, message, text, thread) => {
        const page = await at(by, thread);
        await page.locator(`[data-amend="${message}"]`).click();
        await page.locator('#amend-words').fill(text);
        await page.getByRole('button', { name: 'Change the words' }).click();
        await page.locator('#ask[open]').waitFor({ state: 'detached' });
      },
      remove: async (by, message, thread) => {
        const page = await at(by, thread);
        await page.locator(`[data-amend="${message}"]`).click();
        await page.getByRole('button', { name: 'Take it back' }).click();
        await page.locator('#ask[open]').waitFor({ state: 'detached' });
      },
      tap: async (by, action, message, fields, thread) => {
        let page = await at(by, thread);
        let button = await buttonOf(page, message, action);
        if (!button) {
          // It may not have been drawn yet.
          page = await at(by, thread, true);
          button = await buttonOf(page, message, action);
        }
        if (!button && thread === undefined && 'job' in action.intent) {
          const job = action.intent.job;
          const found = job === undefined ? undefined : await parts.running().floor.shelved(job);
          page = await at(by, found?.threads[0]?.thread);
          button = await buttonOf(page, message, action);
        }
        if (!button) {
          notOffered.push(`${by}: ${action.label}`);
          await plain.tap(by, action, message, fields, thread);
          return;
        }
        if (action.form === undefined && Object.keys(fields).length === 0) {
          const sent = tapped(page);
          await button.click();
          const form = page.locator('#ask[open] form');
          const first = await Promise.race([
            sent.then(() => 'sent' as const),
            form.waitFor().then(() => 'form' as const),
          ]);
          if (first === 'form') {
            await form.locator('button[type=submit]').click();
            await sent;
          }
          return;
        }
        await button.click();
        const form = page.locator('#ask[open] form');
        await form.waitFor();
        for (const [name, value] of Object.entries(fields)) {
          const control = form.locator(`[name="${name}"]`);
          const kind = await control.first().getAttribute('type');
          if (kind === 'checkbox') {
            for (const one of value.split(/,\s*/u))
              await form.locator(`[name="${name}"][value="${one}"]`).check();
          } else if ((await control.evaluate((each) => each.tagName)) === 'SELECT') {
            await control.selectOption(value);
          } else await control.fill(value);
        }
        const sent = tapped(page);
        await form.locator('button[type=submit]').click();
        await sent;
      },
      shows: async (by, message, thread) => {
        // Whoever has the place before them sees it; the opener looks where nobody has.
        const where = placeOf(thread, thread === undefined ? '' : await jobOf(thread));
        const there = [...people.values()].find((each) => each.at === where)?.page;
        const line = (there ?? (await at(by, thread))).locator(`#e-${message}`);
        await line.waitFor({ state: 'attached' });
      },
      end: async () => {
        for (const { context } of people.values()) await context.close();
        people.clear();
      },
    };
  };
