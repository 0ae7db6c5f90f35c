// The container file and the systemd unit: what they promise is in them, and what they name is there.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT } from '../layout/sources.ts';
import { containerSteps, stepsOf } from './container-steps.ts';

const read = (path: string): string => readFileSync(join(ROOT, path), 'utf8');

describe('the container file', () => {
  const steps = containerSteps();
  const wordsOf = (does: string): readonly string[] =>
    steps.filter((step) => step.does === does).map(({ words }) => words);

  it('is Debian slim, runs as nobody in particular, and writes the data folder alone', () => {
    expect(wordsOf('FROM')).toEqual([
      expect.stringMatching(/^docker\.io\/library\/node:22-.*-slim$/u),
    ]);
    expect(wordsOf('USER')).toEqual([expect.stringMatching(/^[1-9]\d*:[1-9]\d*$/u)]);
    expect(wordsOf('VOLUME')).toEqual(['/data']);
    expect(wordsOf('ENV').join(' ')).toContain('CHARGEHAND_DATA=/data');
    // What comes after it has the rights of that account only.
    const at = steps.findIndex(({ does }) => does === 'USER');
    expect(steps.slice(at).every(({ does }) => does !== 'RUN' && does !== 'COPY')).toBe(true);
  });

  it('copies what is there and nothing that holds a secret or a test', () => {
    const copied = wordsOf('COPY').flatMap((words) => words.split(' ').slice(0, -1));
    for (const path of copied) expect([path, existsSync(join(ROOT, path))]).toEqual([path, true]);
    expect(copied).not.toContain('.');
    expect(copied).not.toContain('.env');
    expect(copied).not.toContain('test');
  });

  it('starts the program with a health that its health check asks for', () => {
    const command = JSON.parse(wordsOf('CMD')[0] ?? '[]') as string[];
    expect(existsSync(join(ROOT, command[1] ?? ''))).toBe(true);
    const port = command[command.indexOf('--health-port') + 1];
    expect(wordsOf('HEALTHCHECK')[0]).toContain(`http://127.0.0.1:${port}/health`);
  });

  it('its README runs it read-only, without privileges and with one name', () => {
    const text = read('manifests/container/README.md');
    for (const words of [
      '--read-only',
      '--cap-drop all',
      'no-new-privileges',
      '--hostname',
      '-v chargehand-data:/data',
    ])
      expect(text).toContain(words);
  });

  it('steps are told apart, also over several lines', () => {
    expect(stepsOf('# a\nFROM x\nRUN a \\\n  b\n')).toEqual([
      { does: 'FROM', words: 'x' },
      { does: 'RUN', words: 'a b' },
    ]);
  });
});

describe('the systemd unit', () => {
  const text = read('manifests/systemd/chargehand.service');
  const values = new Map<string, string[]>();
  for (const line of text.split('\n')) {
    const [key = '', value] = [line.slice(0, line.indexOf('=')), line.slice(line.indexOf('=') + 1)];
    if (!line.startsWith('#') && line.includes('='))
      values.set(key, [...(values.get(key) ?? []), value]);
  }

  it.each([
    ['DynamicUser', 'yes'],
    ['NoNewPrivileges', 'yes'],
    ['CapabilityBoundingSet', ''],
    ['ProtectSystem', 'strict'],
    ['ProtectHome', 'yes'],
    ['PrivateTmp', 'yes'],
    ['PrivateDevices', 'yes'],
    ['ProtectKernelTunables', 'yes'],
    ['ProtectKernelModules', 'yes'],
    ['ProtectControlGroups', 'yes'],
    ['RestrictNamespaces', 'yes'],
    ['RestrictSUIDSGID', 'yes'],
    ['LockPersonality', 'yes'],
    ['SystemCallArchitectures', 'native'],
    ['UMask', '0077'],
    ['StateDirectory', 'chargehand'],
    ['Restart', 'on-failure'],
  ])('%s=%s', (key, value) => expect(values.get(key)).toEqual([value]));

  it('writes its state folder alone, and starts what is there with a health', () => {
    expect(values.has('ReadWritePaths')).toBe(false);
    expect(values.get('Environment')?.join(' ')).toContain('CHARGEHAND_DATA=/var/lib/chargehand');
    const command = values.get('ExecStart')?.[0] ?? '';
    expect(existsSync(join(ROOT, /\/opt\/chargehand\/(\S+)/u.exec(command)?.[1] ?? 'none'))).toBe(
      true,
    );
    expect(command).toMatch(/ start .*--health-port \d+/u);
  });

  it('gives a stop longer than the program takes for one', () => {
    const seconds = /STOP_SECONDS = (\d+)/u.exec(read('src/floor/floor.ts'))?.[1];
    const call = /TIME_LIMIT = (\d+)_000/u.exec(read('src/chat/slack/web.ts'))?.[1];
    expect(Number(values.get('TimeoutStopSec')?.[0])).toBeGreaterThan(
      Number(seconds) + Number(call),
    );
  });

  it('no fault that comes back at once starts it for ever', () => {
    expect(Number(values.get('StartLimitBurst')?.[0])).toBeGreaterThan(0);
    expect(Number(values.get('StartLimitIntervalSec')?.[0])).toBeGreaterThan(
      Number(values.get('StartLimitBurst')?.[0]) * Number(values.get('RestartSec')?.[0]),
    );
  });

  const analyze = spawnSync('systemd-analyze', ['--version']).status === 0;
  it.skipIf(!analyze)('systemd takes it (left out where there is no systemd-analyze)', () => {
    const file = join(ROOT, 'manifests/systemd/chargehand.service');
    const { stderr } = spawnSync('systemd-analyze', ['verify', file], { encoding: 'utf8' });
    const wrong = stderr
      .split('\n')
      .filter((line) => line.includes('chargehand.service') && !line.includes('is not executable'));
    expect(wrong).toEqual([]);
  });
});
