// The source files with their imports, for the tests of the layout.
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';

export const ROOT = resolve(import.meta.dirname, '..', '..');

export type Source = {
  /** From the root, with forward slashes. */
  readonly path: string;
  readonly text: string;
  /** Files of the project it imports, from the root; types too. */
  readonly imports: readonly string[];
  /** Packages it imports. */
  readonly packages: readonly string[];
};

const walk = (folder: string): readonly string[] =>
  readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? walk(path) : [path];
  });

const IMPORT =
  /(?:^|\n)\s*(?:import|export)\s[^;]*?from\s+'([^']+)'|import\(\s*'([^']+)'\s*\)|(?:^|\n)\s*import\s+'([^']+)'/gu;

/** Every TypeScript file under a folder of the project. */
export const sourcesUnder = (folder: string): readonly Source[] =>
  walk(join(ROOT, folder))
    .filter((path) => path.endsWith('.ts'))
    .map((path) => {
      const text = readFileSync(path, 'utf8');
      const named = [...text.matchAll(IMPORT)].map(
        (match) => match[1] ?? match[2] ?? match[3] ?? '',
      );
      return {
        path: relative(ROOT, path).replaceAll('\\', '/'),
        text,
        imports: named
          .filter((name) => name.startsWith('.'))
          .map((name) => relative(ROOT, resolve(dirname(path), name)).replaceAll('\\', '/')),
        packages: named.filter((name) => !name.startsWith('.')),
      };
    });
