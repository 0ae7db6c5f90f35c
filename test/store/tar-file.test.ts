// A folder in one file: what is packed comes out as it was; what is damaged, broken off or leads elsewhere does not.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { packFolder, unpackFolder } from '../../src/store/tar-file.ts';
import { randomFrom } from './random.ts';
import { at } from './sample.ts';

let top: string;
let from: string;
let to: string;
let file: string;
beforeEach(() => {
  top = mkdtempSync(join(tmpdir(), 'chargehand-tar-'));
  [from, to, file] = [join(top, 'from'), join(top, 'to'), join(top, 'b.tar.gz')];
  mkdirSync(from);
});
afterEach(() => rmSync(top, { recursive: true, force: true }));

const put = (path: string, bytes: Uint8Array): string => {
  mkdirSync(dirname(join(from, path)), { recursive: true });
  writeFileSync(join(from, path), bytes);
  return path;
};

describe('a folder in one file', () => {
  it('comes out as it went in, whatever the sizes, with long names', async () => {
    const random = randomFrom(7);
    const sizes = [0, 1, 511, 512, 513, 1024, 70_000, 300_001];
    const paths = sizes.map((size, n) => {
      const bytes = Buffer.from(Array.from({ length: size }, () => Math.floor(random() * 256)));
      return put(`jobs/${n % 2 === 0 ? '' : `${'f'.repeat(120)}/`}job-${n}-é.json`, bytes);
    });
    await packFolder(from, paths, file, at(0));
    await unpackFolder(file, to);
    for (const path of paths)
      expect(readFileSync(join(to, path)).equals(readFileSync(join(from, path)))).toBe(true);
  });

  it('a name that is too long for the form is refused, and nothing is left', async () => {
    const path = put(`${'n'.repeat(101)}`, Buffer.from('x'));
    await expect(packFolder(from, [path], file, at(0))).rejects.toMatchObject({
      kind: 'not-fitting',
    });
    await expect(unpackFolder(file, to)).rejects.toMatchObject({ kind: 'folder-gone' });
  });

  it('a name that leads out of the folder is not followed', async () => {
    writeFileSync(join(top, 'outside'), 'x');
    await packFolder(from, ['../outside'], file, at(0));
    rmSync(join(top, 'outside'));
    await expect(unpackFolder(file, join(to, 'deep'))).rejects.toMatchObject({
      kind: 'damaged',
      message: expect.stringContaining('leads out of the folder'),
    });
    expect(() => readFileSync(join(to, 'outside'))).toThrow();
  });

  it.each([
    ['broken off', (bytes: Buffer) => gzipSync(gunzipSync(bytes).subarray(0, 700))],
    ['with its end missing', (bytes: Buffer) => bytes.subarray(0, bytes.length - 9)],
    [
      'with another header',
      (bytes: Buffer) => gzipSync(Buffer.concat([Buffer.from('z'), gunzipSync(bytes).subarray(1)])),
    ],
    ['that is none', () => Buffer.from('none')],
    ['that is empty', () => Buffer.alloc(0)],
  ])('one %s is called damaged', async (_how, change) => {
    put('a.json', Buffer.from('x'.repeat(2_000)));
    await packFolder(from, ['a.json'], file, at(0));
    writeFileSync(file, change(readFileSync(file)));
    await expect(unpackFolder(file, to)).rejects.toMatchObject({ kind: 'damaged', where: file });
  });
});
