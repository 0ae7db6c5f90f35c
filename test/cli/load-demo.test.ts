// The demonstration on the bench: loaded in one tap, every line at its own time of the last shift, nothing left to answer.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pino from 'pino';
import { afterAll, expect, it } from 'vitest';
import { loadDemoInto } from '../../src/cli/load-demo.ts';
import { startWorkshop } from '../../src/main.ts';

const folder = mkdtempSync(join(tmpdir(), 'chargehand-demo-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

// The shift of the demonstration ends at 14:18; so at 15:10 it is today's, and at 09:00 yesterday's would be the last.
const NOW = '2026-11-25T15:10:00.000Z';
const TODAY = /^2026-11-25T/;

it('stands at the times of today’s shift, with no question open', {
  timeout: 180_000,
}, async () => {
  const started = await startWorkshop({
    folder,
    port: 0,
    env: {},
    clock: () => NOW,
    logger: pino({ level: 'silent' }),
    loadDemo: loadDemoInto,
  });
  try {
    const load = () =>
      fetch(new URL('/api/demo', started.address), {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: '{}',
      });
    expect((await load()).status).toBe(200);
    const { floor } = started.running;
    const views = await floor.viewsOf(await floor.openJobs());
    expect(views.map(({ job }) => job).sort()).toEqual(['1042', '1043']);
    for (const view of views) {
      expect(view.questions.filter(({ state }) => state === 'open')).toEqual([]);
      expect(view.opened.at).toMatch(TODAY);
      const page = await (await fetch(new URL(`/job/${view.job}?all=yes`, started.address))).text();
      const roll = page.slice(
        page.indexOf('id="roll"'),
        page.indexOf('</ol>', page.indexOf('id="roll"')),
      );
      const times = [...roll.matchAll(/<time datetime="([^"]+)"/g)].map((match) => match[1] ?? '');
      expect(times.length).toBeGreaterThan(20);
      for (const time of times) {
        expect(time).toMatch(TODAY);
        // Its own time, not that of the loading.
        expect(Date.parse(time)).toBeLessThan(Date.parse('2026-11-25T14:30:00.000Z'));
      }
      expect(roll).not.toContain('posted 15:10');
      expect([...times].sort((a, b) => Date.parse(a) - Date.parse(b))).toEqual(times);
    }
    // The workshop has its own clock again, and is not filled twice.
    expect(floor.clock()).toBe(NOW);
    expect((await load()).status).toBe(409);
  } finally {
    await started.stop();
  }
});
