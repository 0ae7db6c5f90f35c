// A person's own code by command: salted into the settings, nothing else of the file changed, never shown.
import { scryptSync } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readSettings } from '../../src/desk/settings-file.ts';
import { runCommand } from './run-command.ts';

let folder = '';
const file = () => join(folder, 'settings.yaml');
const TEXT = `# Written by hand.
workshop: Harrow Lane depot (demonstration)
zone: Europe/London
people:
  - { name: Ada, roles: [technician] } # on days
  - { name: Robin, also: [Rob], roles: [controller] }
`;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'code-'));
  writeFileSync(file(), TEXT);
});
afterEach(() => rmSync(folder, { recursive: true }));

const code = (args: readonly string[], input: string) =>
  runCommand(['code', ...args, '--data', folder], { input });
const kept = (name: string): string | undefined => {
  const read = readSettings(readFileSync(file(), 'utf8'), file());
  if (!read.ok) throw new Error(read.complaints.join('\n'));
  return read.settings.people.find((person) => person.name === name)?.code;
};

describe('a code', () => {
  it('is kept salted, by the name or another one, and taken out again', () => {
    const set = code(['Rob'], 'hangar-7-door\n');
    expect([set.code, set.err]).toEqual([0, '']);
    const [salt = '', hash = ''] = kept('Robin')?.split(':') ?? [];
    expect(salt).toMatch(/^[0-9a-f]{32}$/u);
    expect(hash).toBe(scryptSync('hangar-7-door', salt, 32).toString('hex'));
    expect(readFileSync(file(), 'utf8')).not.toContain('hangar');
    expect(set.out).not.toContain('hangar');
    expect(code(['Robin', '--remove'], '').code).toBe(0);
    expect(kept('Robin')).toBeUndefined();
  });

  it('changes nothing else of the file', () => {
    code(['Ada'], '123456\n');
    const text = readFileSync(file(), 'utf8');
    for (const words of ['# Written by hand.', '# on days', 'name: Robin, also: [ Rob ]'])
      expect(text).toContain(words);
  });

  it.each([
    ['too short', ['Ada'], '12345\n', 2, 'A code has 6 to 40 figures'],
    ['with a gap', ['Ada'], '123 456 7\n', 2, 'A code has 6 to 40 figures'],
    ['none', ['Ada'], '', 2, 'A code has 6 to 40 figures'],
    ['of nobody', ['Zed'], '123456\n', 2, 'The settings list no Zed'],
    ['without a name', [], '123456\n', 2, 'Name one person'],
  ])('%s changes nothing and says what to do', (_what, args, input, exit, says) => {
    const made = code(args, input);
    expect([made.code, made.err]).toEqual([exit, expect.stringContaining(says)]);
    expect(readFileSync(file(), 'utf8')).toBe(TEXT);
  });
});
