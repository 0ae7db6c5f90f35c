// `start` as its user does it: an empty folder, a job, a message, a pulled plug, a restart.
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { type AddressInfo, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runCommand, startBench } from './run-command.ts';

const folder = mkdtempSync(join(tmpdir(), 'chargehand-start-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const person = (address: string, name: string) => {
  let cookie = '';
  let number = 0;
  return async (text: string): Promise<number> => {
    if (!cookie) {
      const chosen = await fetch(new URL('/api/who', address), {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ name }),
      });
      cookie = chosen.headers.get('set-cookie')?.split(';')[0] ?? '';
    }
    number += 1;
    const answer = await fetch(new URL('/api/message', address), {
      method: 'POST',
      headers: { 'content-type': 'application/json', cookie },
      body: JSON.stringify({
        id: `start-${name.toLowerCase()}-${Date.parse('2026-01-01')}-${number}`,
        thread: null,
        text,
      }),
    });
    return answer.status;
  };
};

/** Looks at a page until it says something, in a bounded number of looks. */
const pageThatSays = async (url: string, words: string): Promise<string> => {
  let page = '';
  for (let looks = 0; looks < 100; looks += 1) {
    page = await (await fetch(url)).text();
    if (page.includes(words)) return page;
    await new Promise((done) => setTimeout(done, 50));
  }
  return page;
};

describe('start', () => {
  it('works with an empty folder, and after a pulled plug everything acknowledged is there', async () => {
    const first = await startBench(folder);
    expect(readFileSync(join(folder, 'settings.yaml'), 'utf8')).toContain('people:');
    const wen = person(first.address, 'Wen');
    const nell = person(first.address, 'Nell');
    expect(await wen('open job 1042 bus 17 coolant pump tech Nell')).toBe(200);
    expect(await pageThatSays(`${first.address}job/1042`, 'bus 17')).toContain('bus 17');
    expect(await nell('drained 26 litres of coolant')).toBe(200);
    await first.stop('SIGKILL');

    const second = await startBench(folder);
    expect(await pageThatSays(`${second.address}job/1042`, 'Coolant out')).toContain('Coolant out');
    expect(await second.stop()).toBe(0);

    const verified = runCommand(['verify', '--data', folder]);
    expect(verified.out).toContain('Job 1042: unbroken');
    expect(verified.code).toBe(0);
  });

  it('a second start on the same folder is refused, naming the holder', async () => {
    const first = await startBench(folder);
    const { code, err } = runCommand(['start', '--port', '0', '--data', folder]);
    expect(code).toBe(1);
    expect(err.trim().split('\n').length).toBeLessThanOrEqual(2);
    expect(err).toMatch(/process \d+|pid \d+/iu);
    expect(await first.stop()).toBe(0);
  });

  it.each([
    ['half a set of tokens', { SLACK_BOT_TOKEN: 'xoxb-1' }, 'SLACK_APP_TOKEN'],
    [
      'several workspaces without a key for their tokens',
      {
        SLACK_CLIENT_ID: '1.2',
        SLACK_CLIENT_SECRET: 'x',
        SLACK_SIGNING_SECRET: 'x',
        SLACK_PUBLIC_URL: 'https://chargehand.example.org',
      },
      'CHARGEHAND_TOKEN_KEY is missing',
    ],
    [
      'the wrong kind of token',
      { SLACK_BOT_TOKEN: 'xapp-1', SLACK_APP_TOKEN: 'xapp-1' },
      'SLACK_BOT_TOKEN',
    ],
  ])('%s is one clear line, and what to do', (_what, env, named) => {
    const { code, err } = runCommand(['start', '--port', '0', '--data', join(folder, 'tokens')], {
      env,
    });
    expect(code).toBe(1);
    expect(err).toContain(named);
    expect(err).not.toContain('xapp-1');
    expect(err).not.toMatch(/\n\s+at /u);
    expect(err.trim().split('\n').length).toBe(2);
  });

  it('settings with a wrong key are named with line and remedy', () => {
    const other = mkdtempSync(join(folder, 'settings-'));
    writeFileSync(
      join(other, 'settings.yaml'),
      'workshop: W\nzone: Europe/London\npeople:\n  - name: Ada\n    rolls: [technician]\n',
    );
    const { code, err } = runCommand(['start', '--port', '0', '--data', other]);
    expect(code).toBe(1);
    expect(err).toContain('settings.yaml:5: "rolls" is not known here. Did you mean "roles"?');
  });

  it('a data folder that is a file, and a log that is a folder, are two plain lines each', () => {
    const file = join(folder, 'a-file');
    writeFileSync(file, '');
    const blocked = mkdtempSync(join(folder, 'log-'));
    mkdirSync(join(blocked, 'chargehand.log'));
    for (const [data, says] of [
      [file, 'under a file where a folder is expected'],
      [blocked, 'chargehand.log is a folder where a file is expected.'],
    ] as const) {
      const { code, err } = runCommand(['start', '--port', '0', '--data', data]);
      expect(code).toBe(1);
      expect(err).toContain(says);
      expect(err).not.toMatch(/\n\s+at |E[A-Z]{4,}/u);
      expect(err.trim().split('\n')).toHaveLength(2);
    }
  });

  it.skipIf(process.getuid?.() === 0)(
    'a data folder that this account may only read is two plain lines (not for root, who may write anywhere)',
    () => {
      const shut = mkdtempSync(join(folder, 'shut-'));
      chmodSync(shut, 0o500);
      const { code, err } = runCommand(['start', '--port', '0', '--data', shut]);
      expect(code).toBe(1);
      expect(err).toContain('may not be used by this account.');
      expect(err.trim().split('\n')).toHaveLength(2);
    },
  );

  it('a port that is taken is two plain lines', async () => {
    const taken = createServer();
    await new Promise<void>((done) => taken.listen(0, '127.0.0.1', done));
    const { port } = taken.address() as AddressInfo;
    const { code, err } = runCommand([
      'start',
      '--port',
      String(port),
      '--data',
      join(folder, 'port'),
    ]);
    await new Promise((done) => taken.close(done));
    expect(code).toBe(1);
    expect(err).toContain(`port ${port}: another program uses this port.`);
    expect(err.trim().split('\n')).toHaveLength(2);
  });

  it('a port that is no port', () => {
    expect(runCommand(['start', '--port', 'seventy']).code).toBe(2);
  });
});
