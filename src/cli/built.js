// The sources as JavaScript, made once for each state of them and kept beside the packages: Node 20 runs no TypeScript,
// and turning it into JavaScript in the running program costs it a third of its memory.
import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { mkdir, readdir, readFile, rename, rm, stat, utimes } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';

const FOLDERS = ['src', 'shared'];
const DAY = 24 * 3600_000;
/** A state of the sources that nobody has started for so long is taken away. */
const KEPT_DAYS = 30;

/** All TypeScript files below a folder, in a fixed order. */
const sourcesIn = async (folder) =>
  (await readdir(folder, { recursive: true }))
    .filter((name) => name.endsWith('.ts'))
    .map((name) => join(folder, name))
    .sort();

/** One name for the state of all sources: where each of them is, and what is in it. Their times change with a copy. */
const stateOf = async (root, version) => {
  const hash = createHash('sha256').update(`${root}\n${version}\n`);
  for (const folder of FOLDERS)
    for (const file of await sourcesIn(join(root, folder))) {
      // One after the other is a quarter of the time that all at once take.
      const source = readFileSync(file);
      hash.update(`${file} ${source.length}\n`).update(source);
    }
  return hash.digest('hex').slice(0, 24);
};

/** Files that stand beside a source are found there, wherever the JavaScript is kept. */
const sourcePlaces = {
  name: 'source-places',
  setup: (made) =>
    made.onLoad({ filter: /\.ts$/ }, async ({ path }) => ({
      contents: (await readFile(path, 'utf8'))
        .replaceAll('import.meta.dirname', JSON.stringify(dirname(path)))
        .replaceAll('import.meta.url', JSON.stringify(pathToFileURL(path).href)),
      loader: 'ts',
    })),
};

const removeOld = async (kept, state) => {
  for (const name of await readdir(kept)) {
    const age = Date.now() - (await stat(join(kept, name))).mtimeMs;
    if (name !== state && age > KEPT_DAYS * DAY) await rm(join(kept, name), { recursive: true });
  }
};

/**
 * @param root the project's folder
 * @returns the file to load, or undefined where nothing can be kept: on a read-only disk, say
 */
export const builtCommands = async (root) => {
  try {
    const esbuild = await import('esbuild');
    const kept = join(root, 'node_modules', '.cache', 'chargehand');
    const state = await stateOf(root, esbuild.version);
    const folder = join(kept, state);
    const file = join(folder, 'commands.js');
    if (existsSync(file)) {
      await utimes(folder, new Date(), new Date()).catch(() => undefined);
      return file;
    }
    await mkdir(kept, { recursive: true });
    const making = join(kept, `.${state}-${process.pid}`);
    try {
      await esbuild.build({
        ...{ entryPoints: [join(root, 'src/cli/commands.ts')], outdir: making, bundle: true },
        ...{ splitting: true, format: 'esm', platform: 'node', target: 'node20' },
        ...{ packages: 'external', sourcemap: 'linked', sourcesContent: false },
        ...{ plugins: [sourcePlaces], logLevel: 'silent' },
      });
    } finally {
      esbuild.stop();
    }
    // Another process may have made the same meanwhile.
    await rename(making, folder).catch(() => rm(making, { recursive: true, force: true }));
    await removeOld(kept, state).catch(() => undefined);
    return existsSync(file) ? file : undefined;
  } catch {
    return undefined;
  }
};
