// `chargehand code PERSON`: sets a person's own code for shared tablets in the settings, for whoever has no phone to set it on.
import { randomBytes } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { Writable } from 'node:stream';
import { parseArgs } from 'node:util';
import { OWN_CODE, OWN_CODE_WORDS, ownCodeHash } from '../chat/bench/door/own-code-hash.ts';
import { readSettings } from '../desk/settings-file.ts';
import { withCode } from '../desk/with-code.ts';
import { diskFiles } from '../store/file-seam.ts';
import { writeWhole } from '../store/whole-write.ts';
import { complain } from './complain.ts';
import { readEnvHere } from './env-file.ts';
import { dataFolder } from './job-folder.ts';

const USAGE = 'npx chargehand code "PERSON" [--remove] [--data FOLDER], the code on the next line';

/** One line of standard input; typed at a terminal it is not shown, and it stands in no list of processes. */
const lineTyped = async (asks: string): Promise<string | undefined> => {
  const { stdin, stderr } = process;
  if (stdin.isTTY) stderr.write(asks);
  const silent = new Writable({ write: (_chunk, _encoding, done) => done() });
  const lines = createInterface({ input: stdin, output: silent, terminal: stdin.isTTY === true });
  try {
    for await (const line of lines) return line.trim();
    return undefined;
  } finally {
    lines.close();
    if (stdin.isTTY) stderr.write('\n');
  }
};

/** Exit 0 done, 1 the settings cannot be read or written, 2 wrong use. */
export const run = async (args: readonly string[]): Promise<number> => {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { data: { type: 'string' }, remove: { type: 'boolean', default: false } },
  });
  const [name = ''] = positionals;
  if (name.trim() === '' || positionals.length > 1)
    return complain('Name one person, as the settings do; in quotes, if it has spaces.', USAGE);
  readEnvHere();
  const file = join(dataFolder(values.data), 'settings.yaml');
  const before = await readFile(file, 'utf8').catch(() => undefined);
  if (before === undefined)
    return complain(`There are no settings at ${file}.`, 'Name the data folder: --data FOLDER.', 1);
  const read = readSettings(before, file);
  if (!read.ok)
    return complain(
      read.complaints[0] ?? `The settings ${file} are not good.`,
      'Mend the settings first.',
      1,
    );
  const person = read.settings.people.find(
    (each) => each.name === name || each.also?.includes(name) === true,
  );
  if (!person)
    return complain(
      `The settings list no ${name}.`,
      `They list: ${read.settings.people.map((each) => each.name).join(', ')}.`,
    );
  let code: string | undefined;
  if (!values.remove) {
    const typed = await lineTyped(`New code for ${person.name}, not shown: `);
    if (typed === undefined || !OWN_CODE.test(typed))
      return complain(`A code has ${OWN_CODE_WORDS}; nothing was changed.`, USAGE);
    code = await ownCodeHash(typed, randomBytes(16).toString('hex'));
  }
  const after = withCode(before, person.name, code);
  const check = after === undefined ? undefined : readSettings(after, file);
  if (after === undefined || !check?.ok)
    return complain(
      `${person.name}'s code could not be written into ${file}.`,
      'Write it there by hand, under the person: code: "salt:hash".',
      1,
    );
  await writeWhole(diskFiles, file, new TextEncoder().encode(after));
  process.stdout.write(
    code === undefined
      ? `${person.name} has no code in the settings any more. It counts from the next start.\n`
      : `${person.name} has a code for shared tablets, kept salted in ${file}. It counts from the next start, unless ${person.name} has set another one on their own phone.\n`,
  );
  return 0;
};
