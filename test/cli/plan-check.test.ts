import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { PlanCheckResult } from '../../shared/plan.ts';
import { run } from '../../src/cli/plan-check.ts';
import { changed, SAMPLE } from '../job/plan-file/sample-plan.ts';

const folder = mkdtempSync(join(tmpdir(), 'plan-check-'));
afterAll(() => rmSync(folder, { recursive: true }));

const fileWith = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};
const good = fileWith('good.yaml', SAMPLE);
const warned = fileWith('warned.yaml', changed('title: Look over the clamp', 'title: Fit clamp'));
const wrong = fileWith('wrong.yaml', changed('after: [fill]', 'after: [fil]'));

let out = '';
let err = '';
beforeEach(() => {
  out = '';
  err = '';
  vi.restoreAllMocks();
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    out += text;
    return true;
  });
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    err += text;
    return true;
  });
});

describe('plan check', () => {
  it.each([
    [
      'a good plan is read back',
      [good],
      0,
      /^Renew the cooler clamp: [\s\S]*The plan is good\.\n$/,
    ],
    [
      'warnings alone are good',
      [warned],
      0,
      /Warning: "Fit clamp" is claimed[\s\S]*good, with 1 warning\.\n$/,
    ],
    [
      'complaints name file and line',
      [wrong],
      1,
      /wrong\.yaml:\d+: "after" of step[\s\S]*1 complaint\.\n$/,
    ],
  ])('%s', async (_, args, code, says) => {
    expect(await run(args)).toBe(code);
    expect(out).toMatch(says);
    expect(err).toBe('');
  });

  it.each([
    ['good', good, 0],
    ['wrong', wrong, 1],
  ])('--json prints one object for a %s plan', async (_, file, code) => {
    expect(await run([file, '--json'])).toBe(code);
    expect(PlanCheckResult.parse(JSON.parse(out)).file).toBe(file);
  });

  it.each([
    ['no file', [], /^No plan file is named\.\nUse: /],
    ['two files', [good, wrong], /^More than one plan file/],
    ['an unknown option', [good, '--jsn'], /^plan check has no option --jsn\.\nUse: /],
    [
      'a file that is not there',
      [join(folder, 'none.yaml')],
      /there is no such file\.\nCheck the name/,
    ],
    ['a folder', [folder], /it is a folder\.\nCheck/],
  ])('%s is wrong use: one line what, one line what to do', async (_, args, says) => {
    expect(await run(args)).toBe(2);
    expect(err).toMatch(says);
    expect(err.trimEnd().split('\n')).toHaveLength(2);
    expect(out).toBe('');
  });
});
