// Killed in the middle of work: what was acknowledged is there once, in the thread and on the floor.
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';

const child = new URL('bench-child.ts', import.meta.url).pathname;
let folder = '';
let bench: ChildProcess | undefined;
afterEach(async () => {
  bench?.kill('SIGKILL');
  await rm(folder, { recursive: true, force: true });
});

const startChild = async (): Promise<string> => {
  const made = spawn(process.execPath, ['--import', 'tsx', child, folder], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  bench = made;
  return new Promise((resolve, reject) => {
    made.stdout?.once('data', (text) => resolve(String(text).trim()));
    made.once('exit', (code) => reject(new Error(`The bench ended with ${code}.`)));
  });
};

describe('a bench that is killed', () => {
  it('has every acknowledged message once after each restart', async () => {
    folder = await mkdtemp(path.join(tmpdir(), 'killed-'));
    const sent: string[] = [];
    const acknowledged: string[] = [];
    for (let round = 0; round < 4; round += 1) {
      const address = await startChild();
      const killAfter = 5 + round * 17;
      let answers = 0;
      const work = Array.from({ length: 120 }, async (_, at) => {
        const id = `round${round}-message${at}`;
        sent.push(id);
        const body = JSON.stringify({ id, thread: null, text: `report ${id} done` });
        const headers = { 'content-type': 'application/json', cookie: 'chargehand-who=Sam' };
        const answer = await fetch(new URL('/api/message', address), {
          method: 'POST',
          headers,
          body,
        }).catch(() => undefined);
        if (answer?.status !== 200) return;
        acknowledged.push(id);
        answers += 1;
        if (answers === killAfter) bench?.kill('SIGKILL');
      });
      await Promise.all(work);
    }
    // Something was lost on the way each time, else nothing was tried.
    expect(acknowledged.length).toBeGreaterThan(4 * 5);
    expect(acknowledged.length).toBeLessThan(sent.length);
    const address = await startChild();
    const page = await (await fetch(new URL('/?all=yes', address))).text();
    const shown = [...page.matchAll(/>report (round\d-message\d+) done<\/p>/g)].map(
      ([, id]) => `bench:${id}`,
    );
    const onFloor = async () =>
      (await readFile(path.join(folder, 'floor.jsonl'), 'utf8'))
        .trim()
        .split('\n')
        .map((line) => JSON.parse(line) as string);
    // What shows is taken in, also where nobody was told so before the bench was killed.
    await expect
      .poll(async () => {
        const floor = new Set(await onFloor());
        return shown.filter((id) => !floor.has(id));
      })
      .toEqual([]);
    const floor = await onFloor();
    for (const id of acknowledged) {
      expect(page.split(`>report ${id} done</p>`).length - 1, id).toBe(1);
      expect(
        floor.filter((taken) => taken === `bench:${id}`),
        id,
      ).toHaveLength(1);
    }
    // Nothing shows twice, acknowledged or not.
    expect(new Set(shown).size).toBe(shown.length);
  });
});
