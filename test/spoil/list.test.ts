import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { SPOILINGS } from './list.ts';
import { spoilt } from './spoiling.ts';

const root = new URL('../../', import.meta.url);

describe('the list of spoilings', () => {
  it.each(SPOILINGS)('$file: $says', (spoiling) => {
    const text = readFileSync(new URL(spoiling.file, root), 'utf8');
    expect(spoilt(text, spoiling)).not.toBe(text);
    for (const test of spoiling.tests) expect(existsSync(new URL(test, root)), test).toBe(true);
  });
});

describe('spoilt', () => {
  const spoiling = { file: 'a.ts', says: '', find: 'x > 1', put: 'x < 1', tests: [] };
  it('exchanges the one place', () => expect(spoilt('if (x > 1)', spoiling)).toBe('if (x < 1)'));
  it.each(['', 'x > 1 || x > 1'])('refuses %j, where the place is not there once', (text) =>
    expect(() => spoilt(text, spoiling)).toThrow(/stands [02] times in a\.ts/),
  );
});
