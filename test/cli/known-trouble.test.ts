// What a disk or a port refuses is said in two lines; a fault of the program is not hidden.
import { describe, expect, it } from 'vitest';
import { knownTrouble } from '../../src/cli/known-trouble.ts';

const refusal = (code: string, more: object): Error =>
  Object.assign(new Error(`${code}: as the system words it`), { code, ...more });

describe('knownTrouble', () => {
  it.each([
    ['EACCES', '/data/jobs may not be used by this account.'],
    ['EROFS', '/data/jobs is on a disk that can only be read.'],
    ['ENOSPC', '/data/jobs cannot be written: the disk is full.'],
    ['ENOTDIR', '/data/jobs lies under a file where a folder is expected.'],
    ['EISDIR', '/data/jobs is a folder where a file is expected.'],
  ])('%s on a folder', (code, what) => {
    const said = knownTrouble(refusal(code, { path: '/data/jobs' }));
    expect(said?.what).toBe(what);
    expect(said?.doThis).toMatch(/^\p{Lu}.*\.$/u);
    expect(`${said?.what}${said?.doThis}`).not.toContain(code);
  });

  it('a port', () => {
    expect(knownTrouble(refusal('EADDRINUSE', { port: 7117 }))?.what).toBe(
      'Port 7117 is in use by another program.',
    );
  });

  it('leaves a fault of the program alone', () => {
    expect(knownTrouble(new TypeError('x is undefined'))).toBeUndefined();
    expect(knownTrouble(refusal('EACCES', {}))).toBeUndefined();
  });
});
