// `npm run docs`: writes the generated parts of README.md and the JSON Schemas; `--check` only says what differs.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT } from '../layout/sources.ts';
import { commandList } from './command-list.ts';
import { conversationExample } from './conversation-example.ts';
import { figureTable } from './figure-table.ts';
import { flagTable } from './flag-table.ts';
import { schemaFiles } from './json-schemas.ts';
import { typeTable } from './type-table.ts';
import { wrongPlan } from './wrong-plan.ts';

/** The generated parts of README.md by the name in their markers. */
export const PARTS: Readonly<Record<string, () => string>> = {
  flags: flagTable,
  commands: commandList,
  'what-you-can-type': typeTable,
  conversation: conversationExample,
  figures: figureTable,
  'wrong-plan': wrongPlan,
};

/** A page with each generated part between its markers renewed. */
export const withParts = (page: string): string => {
  let made = page;
  for (const [name, write] of Object.entries(PARTS)) {
    const begin = `<!-- ${name} -->`;
    const end = `<!-- /${name} -->`;
    const from = made.indexOf(begin);
    const to = made.indexOf(end);
    if (from < 0 || to < from)
      throw new Error(`README.md lost its markers ${begin} and ${end}. Put them back.`);
    made = `${made.slice(0, from + begin.length)}\n${write()}\n${made.slice(to)}`;
  }
  return made;
};

/** Every generated file with its text, by its path from the root. */
export const generatedFiles = (): ReadonlyMap<string, string> =>
  new Map([
    ['README.md', withParts(readFileSync(join(ROOT, 'README.md'), 'utf8'))],
    ...[...schemaFiles()].map(
      ([name, text]) => [name.includes('/') ? name : `shared/json/${name}`, text] as const,
    ),
  ]);

if (process.argv[1]?.endsWith('write.ts')) {
  const onlyCheck = process.argv.includes('--check');
  let differ = 0;
  for (const [path, text] of generatedFiles()) {
    const file = join(ROOT, path);
    let known = '';
    try {
      known = readFileSync(file, 'utf8');
    } catch {
      // A file that is missing differs.
    }
    if (known === text) continue;
    differ += 1;
    if (onlyCheck) console.log(`${path} differs from what the code says. Run "npm run docs".`);
    else {
      writeFileSync(file, text);
      console.log(`${path} written`);
    }
  }
  if (differ === 0) console.log('The generated parts are as the code says.');
  process.exitCode = onlyCheck && differ > 0 ? 1 : 0;
}
