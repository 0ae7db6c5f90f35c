// The adapter under lowdb against each trap of the ones that come with it, and the reading of any bytes.
import fc from 'fast-check';
import { Low } from 'lowdb';
import { describe, expect, it } from 'vitest';
import { durableFile, fileContent, parseText } from '../../src/store/durable-file.ts';
import type { FileSeam } from '../../src/store/file-seam.ts';
import { openLines, sealLine } from '../../src/store/sealed-line.ts';
import { StoreTrouble } from '../../src/store/store-trouble.ts';
import { faultyFiles } from './faults.ts';
import { memoryDisk } from './memory-disk.ts';

type Data = { readonly n: number };
const FUZZ = Number(process.env.CHARGEHAND_FUZZ ?? 3000);

async function setUp() {
  const disk = memoryDisk();
  await disk.files.makeFolder('/w');
  const faulty = faultyFiles(disk.files);
  const did: string[] = [];
  const watched =
    <A extends readonly unknown[], T>(name: string, work: (...args: A) => Promise<T>) =>
    async (...args: A): Promise<T> => {
      did.push(name);
      return work(...args);
    };
  const files: FileSeam = {
    ...faulty.files,
    open: async (path, how) => {
      const file = await faulty.files.open(path, how);
      return {
        ...file,
        write: watched('write', file.write),
        sync: watched('sync', file.sync),
      };
    },
    rename: watched('rename', faulty.files.rename),
    syncFolder: watched('sync folder', faulty.files.syncFolder),
  };
  const adapter = (before?: () => Promise<void>) =>
    durableFile<Data>(files, '/w/a.json', {
      format: 1,
      lift: (_, data) => data as Data,
      json: JSON.stringify,
      ...(before === undefined ? {} : { before }),
    });
  return { adapter, did, faulty, disk };
}

describe('a durable file under lowdb', () => {
  it('writes, syncs, renames and syncs the folder, in this order', async () => {
    const { adapter, did } = await setUp();
    const low = new Low<Data>(adapter(), { n: 1 });
    await low.write();
    expect(did).toEqual(['write', 'sync', 'rename', 'sync folder']);
  });

  it('gives null where there is no file, so that lowdb keeps the default', async () => {
    const { adapter } = await setUp();
    expect(await adapter().read()).toBeNull();
  });

  it('a write that succeeds says so although the next one fails', async () => {
    const { adapter, faulty } = await setUp();
    const file = adapter();
    const first = file.write({ n: 1 });
    await first;
    faulty.fail(['write'], 'ENOSPC', true);
    await expect(file.write({ n: 2 })).rejects.toMatchObject({ kind: 'disk-full' });
    faulty.mend();
    expect(await file.read()).toEqual({ n: 1 });
  });

  it.each([
    ['ENOSPC', 'disk-full'],
    ['EROFS', 'read-only'],
    ['ENOENT', 'folder-gone'],
    ['EIO', 'disk'],
  ])('a failure %s names the file and says what to do', async (code, kind) => {
    const { adapter, faulty } = await setUp();
    faulty.fail(['open'], code);
    const error: unknown = await adapter()
      .write({ n: 1 })
      .catch((e: unknown) => e);
    expect(error).toBeInstanceOf(StoreTrouble);
    expect(error).toMatchObject({ kind, where: '/w/a.json' });
    expect((error as StoreTrouble).todo).toMatch(/^[A-Z].+\.$/);
  });

  it('what has to come before the rename is waited for, and its failure stops the rename', async () => {
    const { adapter, did } = await setUp();
    await adapter().write({ n: 1 });
    did.length = 0;
    const stopped = adapter(async () => {
      throw new StoreTrouble('disk', 'No.', 'here', 'Wait.');
    });
    await expect(stopped.write({ n: 2 })).rejects.toThrow('No.');
    expect(did).not.toContain('rename');
    expect(await stopped.read()).toEqual({ n: 1 });
  });

  it('after a rename that could not be synced it syncs before it believes what it reads', async () => {
    const { adapter, faulty, did } = await setUp();
    const file = adapter();
    await file.write({ n: 1 });
    faulty.fail(['syncFolder'], 'EIO');
    await expect(file.write({ n: 2 })).rejects.toThrow(StoreTrouble);
    await expect(file.read()).rejects.toThrow(StoreTrouble);
    faulty.mend();
    did.length = 0;
    expect(await file.read()).toEqual({ n: 2 });
    expect(did).toEqual(['sync folder']);
  });

  it('leaves nothing half-written behind on a full disk', async () => {
    const { adapter, faulty, disk } = await setUp();
    faulty.fail(['write'], 'ENOSPC', true);
    await expect(adapter().write({ n: 1 })).rejects.toThrow(StoreTrouble);
    expect(await disk.files.names('/w')).toEqual([]);
  });
});

describe('reading any bytes', () => {
  const content = Buffer.from(fileContent(1, '{"a":[1,"two",{"three":null}],"b":"ö\\u2028"}'));
  const change = fc.record({
    spot: fc.nat({ max: content.length }),
    drop: fc.nat({ max: 4 }),
    put: fc.uint8Array({ maxLength: 4 }),
  });

  it('a file that was changed anywhere is never read as something else', () => {
    const good = parseText(content.toString('utf8'));
    fc.assert(
      fc.property(change, ({ spot, drop, put }) => {
        const bytes = Buffer.concat([
          content.subarray(0, spot),
          put,
          content.subarray(Math.min(content.length, spot + drop)),
        ]);
        let read: ReturnType<typeof parseText>;
        try {
          read = parseText(bytes.toString('utf8'));
        } catch (error) {
          expect((error as Error).message).toMatch(/^(it|its) /);
          return;
        }
        // Another digit as the format is all that can get through; a format that is not known is refused later.
        expect(read.data).toEqual(good.data);
      }),
      { numRuns: FUZZ, seed: 1042 },
    );
  });

  const values = [
    { k: 'a', n: 1 },
    { k: 'b', text: 'zwei\n\u2028' },
    { k: 'c', list: [1, 2, 3] },
  ];
  const lines = Buffer.from(values.map(sealLine).join(''));

  it('lines that were changed anywhere are never read as something else', () => {
    fc.assert(
      fc.property(
        fc.record({
          spot: fc.nat({ max: lines.length }),
          drop: fc.nat({ max: 40 }),
          put: fc.uint8Array({ maxLength: 8 }),
        }),
        ({ spot, drop, put }) => {
          const read = openLines(
            Buffer.concat([
              lines.subarray(0, spot),
              put,
              lines.subarray(Math.min(lines.length, spot + drop)),
            ]),
          );
          for (const value of read.values) expect(values).toContainEqual(value);
          const bytes = lines.length - Math.min(drop, lines.length - spot) + put.length;
          expect(read.good + read.torn).toBe(bytes);
        },
      ),
      { numRuns: FUZZ, seed: 1042 },
    );
  });

  it('any bytes at all are read without a failure', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
        const read = openLines(bytes);
        expect(read.values).toEqual([]);
        expect(read.good + read.torn).toBe(bytes.length);
      }),
      { numRuns: FUZZ, seed: 1042 },
    );
  });
});
