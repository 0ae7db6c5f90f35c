// Breaks one thing at a time on purpose, in a copy of the project, and sees whether its tests notice.
//
//   node --import tsx test/spoil/spoil.ts [--whole] [PART OF A FILE NAME ...]
//
// Without --whole the first spoiling of each file is tried. Exit 0 all caught, 1 something was not, 2 wrong use.
import { spawn } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { SPOILINGS } from './list.ts';
import { type Spoiling, spoilt } from './spoiling.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const COPIED = [
  'src',
  'shared',
  'data',
  'manifests',
  'test',
  'package.json',
  'tsconfig.json',
  '.biome.json',
  'README.md',
  'DEVELOPERS.md',
];

type Outcome = { readonly tests: number; readonly failed: number };

async function main(args: readonly string[]): Promise<number> {
  const unknown = args.find((arg) => arg.startsWith('-') && arg !== '--whole');
  if (unknown !== undefined) {
    process.stderr.write(
      `There is no option ${unknown}.\nUse: test/spoil/spoil.ts [--whole] [PART OF A FILE NAME ...]\n`,
    );
    return 2;
  }
  const parts = args.filter((arg) => arg !== '--whole');
  const wanted = SPOILINGS.filter(
    ({ file }) => parts.length === 0 || parts.some((part) => file.includes(part)),
  );
  const chosen = args.includes('--whole') ? wanted : firstOfEach(wanted);
  if (chosen.length === 0) {
    process.stderr.write(
      `No spoiling is of a file named like ${parts.join(', ')}.\nLook into test/spoil/lists.\n`,
    );
    return 2;
  }
  // Everything happens in a copy, so that a run which is interrupted leaves the project as it was.
  const copy = mkdtempSync(join(tmpdir(), 'spoil-'));
  const clear = () => rmSync(copy, { recursive: true, force: true });
  process.once('exit', clear);
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const)
    process.once(signal, () => process.exit(1));
  for (const name of COPIED) {
    if (existsSync(join(root, name)))
      cpSync(join(root, name), join(copy, name), { recursive: true });
  }
  symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'));
  return (await allCaught(copy, chosen)) ? 0 : 1;
}

function firstOfEach(spoilings: readonly Spoiling[]): readonly Spoiling[] {
  return spoilings.filter(
    (one, index) => spoilings.findIndex(({ file }) => file === one.file) === index,
  );
}

async function allCaught(copy: string, spoilings: readonly Spoiling[]): Promise<boolean> {
  const sound = new Map<string, Outcome>();
  let uncaught = 0;
  for (const spoiling of spoilings) {
    const key = spoiling.tests.join(' ');
    const before = sound.get(key) ?? (await runTests(copy, spoiling.tests));
    sound.set(key, before);
    const verdict = await tryOne(copy, spoiling, before);
    if (verdict !== 'caught') uncaught += 1;
    process.stdout.write(`${verdict.padEnd(10)}  ${spoiling.file}: ${spoiling.says}\n`);
  }
  process.stdout.write(`${spoilings.length - uncaught} caught, ${uncaught} not caught.\n`);
  return uncaught === 0;
}

async function tryOne(copy: string, spoiling: Spoiling, before: Outcome): Promise<string> {
  // Tests that fail before anything is spoilt, or that are not there, would catch nothing.
  if (before.tests === 0) return 'no tests';
  if (before.failed > 0) return 'red before';
  const path = join(copy, spoiling.file);
  const text = readFileSync(path, 'utf8');
  writeFileSync(path, spoilt(text, spoiling));
  try {
    const after = await runTests(copy, spoiling.tests);
    // A file that no longer loads would fail every test and show nothing about any of them.
    if (after.tests === 0) return 'breaks all';
    return after.failed > 0 ? 'caught' : 'NOT CAUGHT';
  } finally {
    writeFileSync(path, text);
  }
}

/** Runs tests in the copy; a test file that cannot be loaded counts no test. */
async function runTests(copy: string, tests: readonly string[]): Promise<Outcome> {
  const report = join(copy, 'report.json');
  rmSync(report, { force: true });
  const vitest = join(root, 'node_modules/vitest/vitest.mjs');
  const args = [
    vitest,
    'run',
    '--config',
    'test/vitest.config.ts',
    '--reporter=json',
    `--outputFile=${report}`,
    '--bail=1',
    ...tests,
  ];
  const child = spawn(process.execPath, args, { cwd: copy, stdio: 'ignore' });
  await new Promise((resolve) => child.once('close', resolve));
  if (!existsSync(report)) return { tests: 0, failed: 0 };
  const { numTotalTests, numFailedTests } = JSON.parse(readFileSync(report, 'utf8')) as {
    numTotalTests: number;
    numFailedTests: number;
  };
  return { tests: numTotalTests, failed: numFailedTests };
}

process.exitCode = await main(process.argv.slice(2));
