// Every conversation through the bench page in a real browser: typed into its composer, tapped on its buttons.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/job/load-plan.ts';
import { hasChromium } from '../chat/bench/browser.ts';
import { floorStage } from './floor-stage.ts';
import { openPages, type Pages } from './page-door.ts';
import { play } from './play.ts';
import { parseScript } from './script.ts';

const HERE = import.meta.dirname;
const PLANS = [join(HERE, 'plans'), join(HERE, '..', '..', 'data', 'plans')];

const title = hasChromium
  ? 'on the bench page'
  : 'on the bench page (left out: there is no /usr/bin/chromium here)';

describe.skipIf(!hasChromium)(title, () => {
  let pages: Pages | undefined;
  beforeAll(async () => {
    pages = await openPages();
  });
  afterAll(() => pages?.close());
  for (const name of readdirSync(HERE)
    .filter((each) => each.endsWith('.txt'))
    .sort()) {
    const script = parseScript(readFileSync(join(HERE, name), 'utf8'));
    it(`${name}: ${script.title}`, async () => {
      const file = PLANS.map((folder) => join(folder, `${script.plan}.yaml`)).find(existsSync);
      const { plan } = file ? loadPlan(readFileSync(file, 'utf8'), script.plan) : {};
      if (!plan || !pages) throw new Error(`The plan ${script.plan} has errors.`);
      expect(await play(script, plan, floorStage('bench', pages.door))).toEqual([]);
    }, 120_000);
  }

  // Acknowledging a stop takes a controller or a manager, settling a finding a controller; both are technicians.
  it('offered no button but to those who may use it; these two sent a tap all the same', () => {
    expect([...new Set(pages?.notOffered)].sort()).toEqual(['Ada: I have seen it', 'Mo: Approve']);
  });
});
