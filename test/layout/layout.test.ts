// A folder is pure or a shell, never both, and imports only what the layout allows.
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT, type Source, sourcesUnder } from './sources.ts';

const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  trade: ['trade'],
  job: ['job', 'trade', 'shared'],
  language: ['language', 'job', 'trade', 'shared'],
  desk: ['desk', 'language', 'job', 'trade', 'shared'],
  report: ['report', 'desk', 'language', 'job', 'trade', 'shared'],
  schedule: ['schedule', 'desk', 'job', 'trade', 'shared'],
};
/** Shells know each other only through the contracts. */
const CONTRACTS = [
  'src/chat/channel.ts',
  'src/chat/bench/bench-view.ts',
  'src/store/job-store.ts',
  'src/store/shared-shelf.ts',
  'src/schedule/timers.ts',
  'src/floor/trail.ts',
];
const PURE = ['trade', 'job', 'language', 'desk', 'report'];
const SHELLS = ['chat', 'store', 'schedule', 'floor', 'health'];

const folderOf = (path: string): string =>
  path.startsWith('shared/') ? 'shared' : (path.split('/')[1] ?? '');
const sources = sourcesUnder('src');
const inFolder = (folder: string): readonly Source[] =>
  sources.filter((source) => folderOf(source.path) === folder);

const withoutComments = (text: string): string =>
  text.replace(/\/\*[\s\S]*?\*\//gu, '').replace(/(^|[^:'"`])\/\/[^\n]*/gu, '$1');

describe('imports keep to the layout', () => {
  for (const [folder, allowed] of Object.entries(MAY_IMPORT))
    it(`${folder} imports only ${allowed.join(', ')}`, () => {
      const wrong = inFolder(folder).flatMap((source) =>
        source.imports
          .filter((path) => !allowed.includes(folderOf(path)))
          .map((path) => `${source.path} imports ${path}`),
      );
      expect(wrong).toEqual([]);
    });

  it.each(['chat', 'store', 'floor', 'health'])(
    '%s imports other shells through their contracts only',
    (folder) => {
      const wrong = inFolder(folder).flatMap((source) =>
        source.imports
          .filter(
            (path) =>
              SHELLS.includes(folderOf(path)) &&
              folderOf(path) !== folder &&
              !CONTRACTS.includes(path),
          )
          .map((path) => `${source.path} imports ${path}`),
      );
      expect(wrong).toEqual([]);
    },
  );

  it('channels do not know each other', () => {
    const kind = (path: string): string | undefined => /^src\/chat\/([^/]+)\//u.exec(path)?.[1];
    const wrong = inFolder('chat').flatMap((source) =>
      source.imports
        .filter(
          (path) =>
            kind(path) !== undefined &&
            kind(source.path) !== undefined &&
            kind(path) !== kind(source.path),
        )
        .map((path) => `${source.path} imports ${path}`),
    );
    expect(wrong).toEqual([]);
  });

  it('only main.ts and cli import everything', () => {
    const wrong = sources
      .filter((source) => folderOf(source.path) !== 'cli' && source.path !== 'src/main.ts')
      .flatMap((source) =>
        source.imports
          .filter((path) => path === 'src/main.ts' || path.startsWith('src/cli/'))
          .map((path) => `${source.path} imports ${path}`),
      );
    expect(wrong).toEqual([]);
  });
});

describe('pure folders have no clock, disk, network, randomness or environment', () => {
  const FORBIDDEN: readonly (readonly [string, RegExp])[] = [
    [
      'the clock',
      /\bDate\.now\(|new Date\(\s*\)|DateTime\.(?:now|local|utc)\(\s*\)|performance\.now|\.toLocale(?:Date|Time)String\(/u,
    ],
    ['randomness', /Math\.random|randomUUID|randomBytes|getRandomValues/u],
    ['the environment', /\bprocess\.|\bglobalThis\.process/u],
    ['a timer', /\bset(?:Timeout|Interval|Immediate)\(/u],
    ['the network', /\bfetch\(/u],
  ];
  /** Hashing gives the same answer everywhere and always. */
  const ALLOWED_PACKAGES = new Set(['luxon', 'yaml', 'zod', 'node:crypto']);
  it.each(PURE)('%s', (folder) => {
    const wrong = inFolder(folder).flatMap((source) => {
      const code = withoutComments(source.text);
      return [
        ...FORBIDDEN.filter(([, pattern]) => pattern.test(code)).map(
          ([what]) => `${source.path} uses ${what}`,
        ),
        ...source.packages
          .filter((name) => !ALLOWED_PACKAGES.has(name))
          .map((name) => `${source.path} imports ${name}`),
        ...(source.packages.includes('node:crypto') &&
        /from 'node:crypto'/u.test(code) &&
        !/import \{ createHash \} from 'node:crypto'/u.test(code)
          ? [`${source.path} imports more than createHash from node:crypto`]
          : []),
      ];
    });
    expect(wrong).toEqual([]);
  });
});

describe('names', () => {
  it('no folder or file is named utils, common, helpers, core or services', () => {
    const wrong = [...sources, ...sourcesUnder('test'), ...sourcesUnder('shared')].filter(
      (source) =>
        source.path
          .split('/')
          .some((part) => /^(utils?|common|helpers?|core|services?)(\.|$)/u.test(part)),
    );
    expect(wrong.map((source) => source.path)).toEqual([]);
  });

  it('file names are kebab-case', () => {
    const wrong = sources.filter(
      (source) => !/^[a-z0-9.-]+$/u.test(source.path.split('/').at(-1) ?? ''),
    );
    expect(wrong.map((source) => source.path)).toEqual([]);
  });
});

describe('the map in DEVELOPERS.md', () => {
  const page = readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8');
  it('names only paths that exist', () => {
    const paths = [
      ...page.matchAll(/`((?:src|test|shared|data|manifests)\/[A-Za-z0-9_./-]*)`/gu),
    ].map((match) => match[1] ?? '');
    expect(paths.length).toBeGreaterThan(10);
    expect(paths.filter((path) => !existsSync(join(ROOT, path)))).toEqual([]);
  });

  it('names every folder of src', () => {
    const folders = [
      ...new Set(
        sources
          .map((source) => source.path.split('/').slice(0, 2).join('/'))
          .filter((path) => !path.endsWith('.ts')),
      ),
    ];
    expect(folders.filter((folder) => !page.includes(`\`${folder}/`))).toEqual([]);
  });

  it('names a test that exists beside every invariant', () => {
    const part = page.slice(
      page.indexOf('## Invariants'),
      page.indexOf('\n## ', page.indexOf('## Invariants') + 5),
    );
    const rows = part
      .split('\n')
      .filter(
        (row) => row.startsWith('| ') && !row.startsWith('| ---') && !row.startsWith('| Invariant'),
      );
    expect(rows.length).toBeGreaterThan(8);
    expect(rows.filter((row) => !/`test\/[A-Za-z0-9_./-]+`/u.test(row))).toEqual([]);
  });
});
