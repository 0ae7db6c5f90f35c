// The pages say what the code says; what a command prints fits its schema.
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Act } from '../../shared/reading.ts';
import { actWords } from '../../src/desk/answers/what-read.ts';
import { buildLexicon } from '../../src/language/lexicon.ts';
import { readMessage } from '../../src/language/read.ts';
import { ROOT } from '../layout/sources.ts';
import { corpusRows, planOf } from './type-table.ts';
import { CHOSEN } from './type-table-rows.ts';
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

describe('what the README says can be typed', () => {
  const rows = corpusRows();
  it.each(CHOSEN.map(({ id }) => [rows.get(id)?.text ?? id, id] as const))(
    '%s is read as shown',
    (_text, id) => {
      const row = rows.get(id);
      if (!row) throw new Error(`The corpus has no message ${id}.`);
      const plan = planOf(row.plan);
      const read = readMessage(row.text, buildLexicon(plan), row.at ? { at: row.at } : {});
      const said = (acts: readonly Partial<Act>[]): readonly string[] =>
        acts
          .map((act) =>
            actWords({ plan }, {
              positions: [],
              assumed: [],
              span: [0, 0],
              kind: 'done',
              ...act,
            } as Act),
          )
          .sort();
      expect(said(read.acts)).toEqual(said(row.acts));
    },
  );
});
