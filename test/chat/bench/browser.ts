// Debian's Chromium for the tests of the page; they are skipped in the open where it is not installed.
import { existsSync } from 'node:fs';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import type { BenchRun } from './bench-run.ts';

const PATH = '/usr/bin/chromium';

/** CHARGEHAND_NO_BROWSER leaves them out: what a browser shows does not hang on the version of Node. */
export const hasChromium = existsSync(PATH) && process.env.CHARGEHAND_NO_BROWSER !== '1';

export const openBrowser = (): Promise<Browser> =>
  chromium.launch({
    executablePath: PATH,
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

export type Screen = {
  readonly width?: number;
  readonly height?: number;
  readonly theme?: 'light' | 'dark';
  readonly who?: string;
};

export type Opened = {
  readonly page: Page;
  readonly context: BrowserContext;
  /** What the browser complained about: refused by the policy, thrown by the script, not found. */
  readonly complaints: string[];
};

/** A page of the bench in a browser of its own, as one device has it. */
export async function openPage(
  browser: Browser,
  run: BenchRun,
  where: string,
  { width = 360, height = 740, theme = 'light', who }: Screen = {},
): Promise<Opened> {
  const context = await browser.newContext({ viewport: { width, height }, colorScheme: theme });
  if (who !== undefined) {
    await context.addCookies([{ name: 'chargehand-who', value: who, url: run.address }]);
  }
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  await page.goto(new URL(where, run.address).href);
  return { page, context, complaints };
}
