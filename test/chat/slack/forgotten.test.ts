// What somebody posted whom nobody took in: kept until a controller decides, and gone once they are to be forgotten.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { runCommand } from '../../cli/run-command.ts';
import { type InAWorkshop, inAWorkshop, JO } from './in-a-workshop.ts';
import { ADA } from './set-up-channel.ts';

let all: InAWorkshop;
beforeEach(async () => {
  all = await inAWorkshop();
});
afterEach(() => all.end());

/** Files of the store in which something stands. */
const holding = (what: RegExp): readonly string[] =>
  readdirSync(join(all.folder, 'jobs'), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => what.test(readFileSync(path, 'utf8')));

it('an unknown person goes by their id, with what they posted; what others posted stays', async () => {
  const root = await all.open();
  await all.said(ADA, 'wheels chocked, parking brake on', root);
  await all.said(JO, 'battery isolated', root);
  await all.stop();
  expect(holding(/battery isolated/u).map((path) => path.split('/').at(-1))).toContain(
    'marks.jsonl',
  );
  const { code, out } = runCommand(['forget', JO, '--data', all.folder]);
  expect([code, out]).toEqual([0, expect.stringContaining('1 note of what waits')]);
  expect(holding(/battery isolated|U0JO0001/u)).toEqual([]);
  await all.start();
  expect((await all.messagesOf('1050')).join()).toContain('wheels chocked');
});
