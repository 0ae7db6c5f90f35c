// A .env file in the folder that a command is given in: every command goes by it, and none looks elsewhere when it cannot be
// read.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { runCommand } from './run-command.ts';

let here = '';
beforeEach(() => {
  here = mkdtempSync(join(tmpdir(), 'env-file-'));
});
afterEach(() => rmSync(here, { recursive: true }));

const run = (...args: string[]) => runCommand(args, { cwd: here, input: 'hangar-7-door\n' });

describe('a .env file', () => {
  it('names the data folder', () => {
    mkdirSync(join(here, 'depot'));
    const settings = join(here, 'depot', 'settings.yaml');
    writeFileSync(
      settings,
      'workshop: Harrow Lane\nzone: Europe/London\npeople:\n  - { name: Ada, roles: [controller] }\n',
    );
    writeFileSync(join(here, '.env'), 'CHARGEHAND_DATA=depot\n');
    expect(run('code', 'Ada')).toMatchObject({ code: 0, err: '' });
    expect(readFileSync(settings, 'utf8')).toContain('code:');
  });

  it('names the port', () => {
    writeFileSync(join(here, '.env'), 'CHARGEHAND_PORT=quay\n');
    expect(run('start').err).toContain('The port is no number from 0 to 65535.');
  });

  it.each([
    ['start'],
    ['verify'],
    ['retain', '--days', '3'],
    ['forget', 'Ada'],
    ['record', '1042'],
    ['code', 'Ada'],
    ['backup', 'copy'],
    ['move', '--to', 'postgres'],
  ])('that is a folder stops %s in two lines', (...args) => {
    mkdirSync(join(here, '.env'));
    const { code, err } = run(...args);
    expect(err.trim().split('\n')).toEqual([
      'The file .env is a folder where a file is expected.',
      'Mend or remove it.',
    ]);
    expect(code).toBe(1);
  });

  it('that is a folder is one finding of doctor among the others', () => {
    mkdirSync(join(here, '.env'));
    const { code, out } = run('doctor');
    expect(out).toContain('The file .env is a folder where a file is expected.');
    expect(out).toContain('plans in');
    expect(code).toBe(1);
  });
});
