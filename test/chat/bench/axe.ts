// axe-core on a page: every violation with the first of its places.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const SOURCE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

export type Finding = { readonly id: string; readonly nodes: readonly string[] };

export const axeFindings = async (page: Page): Promise<readonly Finding[]> => {
  await page.evaluate(SOURCE);
  const found = (await page.evaluate('axe.run({ resultTypes: ["violations"] })')) as {
    violations: { id: string; nodes: { html: string; failureSummary: string }[] }[];
  };
  return found.violations.map(({ id, nodes }) => ({
    id,
    nodes: nodes.slice(0, 3).map(({ html, failureSummary }) => `${html} ${failureSummary}`),
  }));
};
