// The launcher's JavaScript: made once for a state of the sources, anew after a change, and done without where nothing can be kept.
import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, readdir, rm, symlink, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ROOT } from '../layout/sources.ts';

type Built = { readonly builtCommands: (root: string) => Promise<string | undefined> };
const BUILT = pathToFileURL(join(ROOT, 'src/cli/built.js')).href;
const { builtCommands } = (await import(BUILT)) as Built;
const run = promisify(execFile);

const SOURCE = `import { size } from '../../shared/size.ts';
type Said = { readonly text: string };
export const main = async (): Promise<Said> => ({ text: \`\${size} \${import.meta.dirname}\` });
export const where: string = import.meta.url;
`;

describe('the JavaScript of the sources', () => {
  let root = '';
  beforeEach(async () => {
    root = await mkdtemp(join(tmpdir(), 'chargehand-built-'));
    await mkdir(join(root, 'src', 'cli'), { recursive: true });
    await mkdir(join(root, 'shared'));
    await writeFile(join(root, 'src', 'cli', 'commands.ts'), SOURCE);
    await writeFile(join(root, 'shared', 'size.ts'), 'export const size: number = 7;\n');
    await mkdir(join(root, 'node_modules'));
    await writeFile(join(root, 'package.json'), '{"type":"module"}');
    await symlink(join(ROOT, 'node_modules', 'tsx'), join(root, 'node_modules', 'tsx'));
  });
  afterEach(() => rm(root, { recursive: true, force: true }));

  it('finds what stands beside a source where the source is, and is made once', async () => {
    const file = await builtCommands(root);
    const made = (await import(pathToFileURL(file ?? '').href)) as {
      readonly main: () => Promise<{ readonly text: string }>;
      readonly where: string;
    };
    expect(await made.main()).toEqual({ text: `7 ${join(root, 'src', 'cli')}` });
    expect(made.where).toBe(pathToFileURL(join(root, 'src', 'cli', 'commands.ts')).href);
    expect(await builtCommands(root)).toBe(file);
    expect(await readdir(join(root, 'node_modules', '.cache', 'chargehand'))).toHaveLength(1);
  });

  it('is another one once a source has changed, in any folder', async () => {
    const before = await builtCommands(root);
    await writeFile(join(root, 'shared', 'size.ts'), 'export const size: number = 1234;\n');
    const after = await builtCommands(root);
    expect(after).not.toBe(before);
    const made = (await import(pathToFileURL(after ?? '').href)) as {
      readonly main: () => Promise<{ readonly text: string }>;
    };
    expect((await made.main()).text).toMatch(/^1234 /u);
  });

  it('goes by what is in the sources and not by their times, which a copy or an image may cut', async () => {
    const size = join(root, 'shared', 'size.ts');
    const early = new Date('2026-03-10T08:00:00.000Z');
    const before = await builtCommands(root);
    await utimes(size, early, early);
    expect(await builtCommands(root)).toBe(before);
    await writeFile(size, 'export const size: number = 8;\n');
    await utimes(size, early, early);
    expect(await builtCommands(root)).not.toBe(before);
  });

  it('is one and the same where several processes start at once', async () => {
    const start = `const { builtCommands } = await import(${JSON.stringify(BUILT)});
console.log(await builtCommands(${JSON.stringify(root)}));`;
    const said = await Promise.all(
      [1, 2, 3].map(() => run(process.execPath, ['--input-type=module', '-e', start])),
    );
    const files = said.map(({ stdout }) => stdout.trim());
    expect(new Set(files).size).toBe(1);
    expect(files[0]).toMatch(/commands\.js$/u);
    expect(await readdir(join(root, 'node_modules', '.cache', 'chargehand'))).toHaveLength(1);
  });

  it('is done without where it cannot be kept, or where a source does not read', async () => {
    await writeFile(join(root, 'node_modules', '.cache'), 'in the way');
    expect(await builtCommands(root)).toBeUndefined();
    await rm(join(root, 'node_modules', '.cache'));
    await writeFile(join(root, 'shared', 'size.ts'), 'export const = ;\n');
    expect(await builtCommands(root)).toBeUndefined();
  });
});
