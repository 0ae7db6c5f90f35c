// Teams is switched on by its credentials, and its package is loaded only then.
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { teamsFor } from '../../src/cli/teams-start.ts';
import { SETTINGS } from '../floor/workshop-floor.ts';
import { ROOT } from '../layout/sources.ts';

/** Everything that is loaded with a file: what it imports without waiting, and what that imports. */
const loadedWith = (
  start: string,
): { files: ReadonlySet<string>; packages: ReadonlySet<string> } => {
  const files = new Set<string>();
  const packages = new Set<string>();
  const open = [start];
  for (let file = open.pop(); file !== undefined; file = open.pop()) {
    if (files.has(file) || !existsSync(file)) continue;
    files.add(file);
    const text = readFileSync(file, 'utf8');
    for (const [, what = '', from = ''] of text.matchAll(
      /^(?:import|export)\s([^;'"]*?)from\s+'([^']+)'/gm,
    )) {
      if (/^type\s/.test(what)) continue;
      if (from.startsWith('.')) open.push(join(dirname(file), from));
      else packages.add(from);
    }
  }
  return { files, packages };
};

describe('Teams at the start', () => {
  it('loads its package with the channel, and not with the program', () => {
    const channel = loadedWith(join(ROOT, 'src/chat/teams/teams-channel.ts'));
    const isTeams = (name: string) => name.startsWith('@microsoft/teams');
    expect([...channel.packages].some(isTeams)).toBe(true);
    for (const entry of ['src/main.ts', 'src/cli/commands.ts', 'src/cli/start.ts']) {
      const program = loadedWith(join(ROOT, entry));
      expect(program.files.size).toBeGreaterThan(1);
      expect([...program.packages].filter(isTeams)).toEqual([]);
    }
  });

  it('is off where nothing is set, and says what is missing where half is', async () => {
    const parts = { clock: () => '2026-03-02T09:00:00.000Z', log: () => undefined };
    const asked = (env: NodeJS.ProcessEnv) =>
      teamsFor(env, ROOT, SETTINGS, parts as unknown as Parameters<typeof teamsFor>[3]);
    expect(await asked({})).toBeUndefined();
    await expect(
      asked({ TEAMS_CLIENT_ID: '11111111-2222-4333-8444-555555555555' }),
    ).rejects.toThrow(/TEAMS_/);
  });
});
