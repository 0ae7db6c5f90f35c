// The pages say what the code says; what a command prints fits its schema.
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT } from '../layout/sources.ts';
import { generatedFiles } from './write.ts';

describe('generated files', () => {
  for (const [path, text] of generatedFiles())
    it(`${path} is as the code says; run "npm run docs" where it is not`, () => {
      expect(readFileSync(join(ROOT, path), 'utf8') === text).toBe(true);
    });
});

describe('README.md', () => {
  const page = readFileSync(join(ROOT, 'README.md'), 'utf8');
  it('links and pictures lead to files that exist', () => {
    const targets = [...page.matchAll(/\]\(([^)#]+)\)/gu)]
      .map((match) => match[1] ?? '')
      .filter((target) => !/^https?:/u.test(target));
    expect(targets.length).toBeGreaterThan(2);
    expect(targets.filter((target) => !existsSync(join(ROOT, target)))).toEqual([]);
  });

  it('names only scripts that package.json has', () => {
    const { scripts } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as {
      scripts: Record<string, string>;
    };
    const named = [...page.matchAll(/npm run ([a-z-]+)/gu)].map((match) => match[1] ?? '');
    expect(named.filter((name) => !(name in scripts))).toEqual([]);
  });
});
