// The order in which a running workshop is copied, and cards that still hold a name.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { diskFiles, type FileSeam } from '../../src/store/file-seam.ts';
import { jobFileStore } from '../../src/store/job-file-store.ts';
import { backupWorkshop } from '../../src/store/workshop-backup.ts';
import { at, openJob, outboxEntry } from './sample.ts';

let top: string;
beforeEach(() => {
  top = mkdtempSync(join(tmpdir(), 'chargehand-wb-'));
});
afterEach(() => rmSync(top, { recursive: true, force: true }));

const filled = async () => {
  const store = jobFileStore(join(top, 'w', 'jobs'), { clock: () => at(0) });
  await store.open();
  await store.append(
    openJob('1042', {
      outbox: [outboxEntry('1042', 'flag', { text: 'Asked of Jo, not of Johan.' })],
    }),
  );
  return store;
};

describe('a backup of a workshop', () => {
  it('copies what hands on to the store before it, and what the store posts into behind it', async () => {
    const store = await filled();
    mkdirSync(join(top, 'w', 'bench', 'threads'), { recursive: true });
    for (const file of ['arrivals.jsonl', 'yard.jsonl', 'threads/p-1.jsonl'])
      writeFileSync(join(top, 'w', 'bench', file), '{}\n');
    writeFileSync(join(top, 'w', 'chargehand.log'), 'x');
    const read: string[] = [];
    const files: FileSeam = {
      ...diskFiles,
      read: (path) => {
        read.push(path.slice(top.length + 3));
        return diskFiles.read(path);
      },
    };
    await backupWorkshop(join(top, 'w'), join(top, 'b'), () => at(0), files);
    await store.close();
    const place = (path: string): number => read.findIndex((each) => each.includes(path));
    expect(place('bench/arrivals.jsonl')).toBeGreaterThanOrEqual(0);
    expect(place('bench/arrivals.jsonl')).toBeLessThan(place('inbox.jsonl'));
    expect(place('inbox.jsonl')).toBeLessThan(place('job-1042'));
    expect(place('job-1042')).toBeLessThan(place('bench/yard.jsonl'));
    expect(place('job-1042')).toBeLessThan(place('bench/threads/p-1.jsonl'));
    expect(place('chargehand.log')).toBe(-1);
    expect(place('lock.json')).toBe(-1);
  });
});

describe('a person who is removed', () => {
  it('is taken out of cards that still wait to be posted, and nobody else is', async () => {
    const store = await filled();
    expect(await store.removePerson(['Jo'])).toBe(1);
    expect((await store.outbox()).map(({ post }) => post.card?.text)).toEqual([
      'Asked of removed person, not of Johan.',
    ]);
    await store.close();
  });
});
