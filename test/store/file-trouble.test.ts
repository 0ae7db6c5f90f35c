// What belongs to files alone: formats, set-aside, lost and damaged inbox and index, mutated bytes, removal on disk.
import { readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { fileContent, parseText } from '../../src/store/durable-file.ts';
import { diskFiles } from '../../src/store/file-seam.ts';
import { type JobFileStore, jobFileStore } from '../../src/store/job-file-store.ts';
import { StoreTrouble } from '../../src/store/store-trouble.ts';
import { type FileHarness, fileHarness } from './file-harness.ts';
import {
  at,
  delivery,
  indexOf,
  jobOpened,
  openJob,
  outboxEntry,
  posted,
  textsOf,
  thread,
} from './sample.ts';

const FUZZ = Number(process.env.CHARGEHAND_FUZZ ?? 3000);

describe('the files of a store', () => {
  let harness: FileHarness;
  let store: JobFileStore;
  const jobPath = (job: string): string => join(harness.folder, 'jobs', `job-${job}.json`);
  const inFolder = (name: string): string => join(harness.folder, name);

  beforeEach(async () => {
    harness = await fileHarness();
    store = harness.store;
  });
  afterEach(() => harness.end());

  it('keeps its data on disk also where NODE_ENV is "test"', async () => {
    expect(process.env.NODE_ENV).toBe('test');
    await store.append(openJob('1042'));
    expect(await readFile(jobPath('1042'), 'utf8')).toContain('loses coolant overnight');
  });

  it('a job file is one JSON object that says its format', async () => {
    await store.append(openJob('1042'));
    const parsed = JSON.parse(await readFile(jobPath('1042'), 'utf8'));
    expect(parsed).toMatchObject({ format: 1, data: { job: '1042' } });
  });

  it('two jobs share nothing', async () => {
    await store.append(openJob('1', { outbox: [outboxEntry('1', 'a')], threads: [thread('1')] }));
    await store.append(openJob('2'));
    expect(await store.load('2')).toMatchObject({ outbox: [], threads: [], posts: [] });
  });

  it('what is loaded cannot be changed from outside', async () => {
    await store.append(openJob('1'));
    const job = await store.load('1');
    const events = job?.events as unknown[] | undefined;
    expect(() => events?.push('x')).toThrow(TypeError);
    const event = job?.events[0]?.event as { by: string } | undefined;
    expect(() => {
      if (event !== undefined) event.by = 'Kim';
    }).toThrow(TypeError);
  });

  it('shows nothing that is still on its way to the disk', async () => {
    let hold: Promise<void> = Promise.resolve();
    const slow = jobFileStore(`${harness.folder}-slow`, {
      clock: () => at(0),
      files: {
        ...diskFiles,
        syncFolder: async (folder) => {
          await hold;
          await diskFiles.syncFolder(folder);
        },
      },
    });
    await slow.open();
    await slow.append(openJob('1042'));
    let letGo = (): void => undefined;
    hold = new Promise((resolve) => {
      letGo = resolve;
    });
    const appended = slow.append({
      job: '1042',
      expected: 1,
      events: [posted(1)],
      index: indexOf('1042', { status: 'closed' }),
      outbox: [outboxEntry('1042', 'a')],
    });
    for (let i = 0; i < 20; i++) {
      expect((await slow.load('1042'))?.events).toHaveLength(1);
      expect(await slow.outbox()).toEqual([]);
      expect((await slow.list())[0]?.status).toBe('open');
      await new Promise((resolve) => setImmediate(resolve));
    }
    letGo();
    await appended;
    expect((await slow.load('1042'))?.events).toHaveLength(2);
    await slow.close();
  });

  describe('formats', () => {
    const format0 = (job: string): string =>
      JSON.stringify({
        format: 0,
        job,
        index: indexOf(job),
        threads: [thread(job)],
        events: [jobOpened(job), posted(1)],
      });

    it('lifts a file of format 0 when it is read, keeps it lifted, and its chain verifies', async () => {
      await store.close();
      await writeFile(jobPath('900'), format0('900'));
      store = await harness.restart();
      const job = await store.load('900');
      expect(job?.events.map((e) => e.event)).toEqual([jobOpened('900'), posted(1)]);
      expect((await store.list()).map((entry) => entry.job)).toEqual(['900']);
      const first = await store.verify('900');
      expect(first).toMatchObject({ good: true });
      expect(JSON.parse(await readFile(jobPath('900'), 'utf8'))).toMatchObject({ format: 1 });
      store = await harness.restart();
      expect(await store.verify('900')).toEqual(first);
      const more = await store.append({
        job: '900',
        expected: job?.version ?? -1,
        events: [posted(2)],
        index: indexOf('900'),
      });
      expect(more.ok).toBe(true);
    });

    it('sets a file of format 0 aside that does not have its form', async () => {
      await store.close();
      await writeFile(jobPath('900'), format0('900').replace('"events"', '"happenings"'));
      store = await harness.restart();
      expect(await readdir(inFolder('set-aside'))).toHaveLength(2);
    });

    it('leaves a file of a newer format alone, and says so', async () => {
      await store.append(openJob('1042'));
      await store.close();
      const text = (await readFile(jobPath('1042'), 'utf8')).replace('{"format":1', '{"format":2');
      await writeFile(jobPath('1042'), text);
      store = await harness.restart();
      await expect(store.load('1042')).rejects.toMatchObject({ kind: 'newer-format' });
      expect(await readFile(jobPath('1042'), 'utf8')).toBe(text);
    });
  });

  describe('a file of another version', () => {
    const ofAnotherVersion = async (): Promise<void> => {
      const { data } = parseText(await readFile(jobPath('1042'), 'utf8'));
      const other = JSON.stringify({ ...(data as object), bays: [3] });
      await writeFile(jobPath('1042'), fileContent(1, other));
    };

    it.each(['restart', 'crash'] as const)(
      'is left alone, the other jobs go on, and it is found again, at a %s',
      async (how) => {
        await store.append(openJob('1042', { outbox: [outboxEntry('1042', 'a')] }));
        await store.append(openJob('1043'));
        const good = await readFile(jobPath('1042'));
        if (how === 'restart') await store.close();
        await ofAnotherVersion();
        store = await harness[how]();
        await expect(store.load('1042')).rejects.toMatchObject({
          kind: 'newer-format',
          what: expect.stringContaining('bays'),
        });
        expect((await store.load('1043'))?.events).toHaveLength(1);
        expect(harness.troubles.some((t) => t.kind === 'newer-format')).toBe(true);
        store = await harness.restart();
        await store.close();
        await writeFile(jobPath('1042'), good);
        store = await harness.restart();
        expect((await store.outbox()).map((entry) => entry.post.key)).toEqual(['a']);
      },
    );
  });

  describe('set aside', () => {
    it('keeps the damaged bytes, with file and reason beside them', async () => {
      await store.append(openJob('1042'));
      await store.close();
      await harness.damage('1042', 'torn');
      const bytes = await readFile(jobPath('1042'), 'utf8');
      store = await harness.restart();
      await expect(store.load('1042')).rejects.toThrow(/its end is missing/);
      const names = (await readdir(inFolder('set-aside'))).sort();
      expect(names).toEqual([
        '2031-05-06T06-30-00-000Z-job-1042.json',
        '2031-05-06T06-30-00-000Z-job-1042.json.why.txt',
      ]);
      expect(await readFile(inFolder(`set-aside/${names[0]}`), 'utf8')).toBe(bytes);
      const why = await readFile(inFolder(`set-aside/${names[1]}`), 'utf8');
      expect(why).toContain(jobPath('1042'));
      expect(why).toContain('its end is missing');
    });

    it('a file put back goes on after the next start', async () => {
      await store.append(openJob('1042'));
      await store.close();
      const good = await readFile(jobPath('1042'));
      await harness.damage('1042', 'empty');
      store = await harness.restart();
      await expect(store.load('1042')).rejects.toThrow(StoreTrouble);
      await store.close();
      await writeFile(jobPath('1042'), good);
      store = await harness.restart();
      expect((await store.load('1042'))?.events).toHaveLength(1);
    });

    it('a file that holds another job is not believed', async () => {
      await store.append(openJob('1042'));
      await store.close();
      await writeFile(jobPath('1043'), await readFile(jobPath('1042')));
      store = await harness.restart();
      expect((await store.list()).map((entry) => entry.job)).toEqual(['1042']);
      expect(harness.troubles.some((t) => t.message.includes('whose file has another name'))).toBe(
        true,
      );
    });

    it('a damaged line of the marks is set aside, and the others are kept', async () => {
      await store.setMark('shift', 'early');
      await store.setMark('bay', '3');
      await store.close();
      const text = await readFile(inFolder('marks.jsonl'), 'utf8');
      await writeFile(inFolder('marks.jsonl'), text.replace('early', 'EARLY'));
      store = await harness.restart();
      expect(await store.mark('shift')).toBeUndefined();
      expect(await store.mark('bay')).toBe('3');
      expect(harness.troubles.some((t) => t.where.endsWith('marks.jsonl'))).toBe(true);
    });

    it('a kept photo that changed is not handed out', async () => {
      const sum = 'ff7cbf74fd51d1e1eff5b1dcb9c0b6bdba6c2a6ae3d54b9eb3d2c2fd3a0ee0a2';
      await expect(store.keepFile('1', sum, 'image/png', Buffer.from('x'))).rejects.toThrow();
      const real = '2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881';
      const name = await store.keepFile('1', real, 'image/png', Buffer.from('x'));
      await writeFile(inFolder(`files/job-1/${name}`), 'y');
      await expect(store.readFile('1', name)).rejects.toMatchObject({ kind: 'damaged' });
    });
  });

  describe('inbox and index', () => {
    const fill = async (): Promise<void> => {
      for (const n of [1, 2, 3]) await store.accept(delivery(n), at(n));
      await store.append(
        openJob('1042', {
          settles: 'bench:1',
          threads: [thread('1042')],
          outbox: [outboxEntry('1042', 'a')],
        }),
      );
      await store.append(openJob('1043'));
    };
    const expectJobs = async (): Promise<void> => {
      expect((await store.list()).map((entry) => entry.job).sort()).toEqual(['1042', '1043']);
      expect((await store.outbox()).map((e) => e.post.key)).toEqual(['a']);
      const t = thread('1042');
      expect(await store.jobOfThread(t.channel, t.team, t.place, t.thread)).toBe('1042');
    };

    it.each(['restart', 'crash'] as const)(
      'a torn last line of the inbox was never acknowledged and goes, at a %s',
      async (how) => {
        await fill();
        if (how === 'restart') await store.close();
        const text = await readFile(inFolder('inbox.jsonl'), 'utf8');
        await writeFile(inFolder('inbox.jsonl'), `${text}0123456789abcdef {"k":"accep`);
        store = await harness[how]();
        await expectJobs();
        expect((await store.waiting()).map((w) => w.delivery.id)).toEqual(['bench:2', 'bench:3']);
        expect(await store.accept(delivery(4), at(4))).toBe('new');
        store = await harness.crash();
        expect(await store.waiting()).toHaveLength(3);
        expect(await readFile(inFolder('inbox.jsonl'), 'utf8')).not.toContain('"accep{');
      },
    );

    it('a damaged line in the middle of the inbox is set aside, and the others are kept', async () => {
      await fill();
      await store.close();
      const lines = (await readFile(inFolder('inbox.jsonl'), 'utf8')).split('\n');
      const hit = lines.findIndex((line) => line.includes('"bench:2"'));
      const damaged = lines[hit]?.replace('drained', 'drainex') ?? '';
      lines[hit] = damaged;
      await writeFile(inFolder('inbox.jsonl'), lines.join('\n'));
      store = await harness.restart();
      expect((await store.waiting()).map((w) => w.delivery.id)).toEqual(['bench:3']);
      await expectJobs();
      const names = await readdir(inFolder('set-aside'));
      const kept = names.find((name) => name.endsWith('lines-of-inbox.jsonl')) ?? '';
      expect(await readFile(inFolder(`set-aside/${kept}`), 'utf8')).toBe(`${damaged}\n`);
    });

    it('a lost inbox is told, and jobs, posts and what they settled are found again', async () => {
      await fill();
      await store.close();
      await rm(inFolder('inbox.jsonl'));
      store = await harness.restart();
      await expectJobs();
      expect(await store.accept(delivery(1), at(1))).toBe('seen');
      expect(harness.troubles.some((t) => t.kind === 'missing')).toBe(true);
    });

    it.each([
      ['lost', (path: string) => rm(path)],
      ['empty', (path: string) => writeFile(path, '')],
      ['rubbish', (path: string) => writeFile(path, 'rubbish\nmore\n')],
      [
        'torn',
        async (path: string) => writeFile(path, (await readFile(path, 'utf8')).slice(0, -20)),
      ],
    ])('an index that is %s is found again from the jobs', async (_how, damage) => {
      await fill();
      await store.close();
      await damage(inFolder('index.jsonl'));
      store = await harness.restart();
      await expectJobs();
    });

    it('lines of a newer version are left alone, and the start is refused', async () => {
      await fill();
      await store.close();
      const { sealLine } = await import('../../src/store/sealed-line.ts');
      const text = await readFile(inFolder('inbox.jsonl'), 'utf8');
      await writeFile(inFolder('inbox.jsonl'), text + sealLine({ k: 'of-tomorrow' }));
      await expect(harness.restart()).rejects.toMatchObject({ kind: 'newer-format' });
      await writeFile(inFolder('inbox.jsonl'), text);
      store = await harness.restart();
      await expectJobs();
    });

    it('what is settled goes from the inbox file, its keys stay', async () => {
      await fill();
      await store.settle('bench:2');
      store = await harness.restart();
      const text = await readFile(inFolder('inbox.jsonl'), 'utf8');
      expect(text).toContain('drained 3 L');
      expect(text).not.toContain('drained 1 L');
      expect(text).not.toContain('drained 2 L');
      for (const n of [1, 2, 3]) expect(await store.accept(delivery(n), at(n))).toBe('seen');
    });

    it('a half-written file of a killed process is removed at the next start', async () => {
      await fill();
      await writeFile(inFolder('jobs/.job-1042.json.tmp'), '{"format":1');
      store = await harness.crash();
      await expectJobs();
      expect(await readdir(inFolder('jobs'))).not.toContain('.job-1042.json.tmp');
    });
  });

  it('any byte of any stored file changed: it opens, other jobs go on, and no record is wrong', async () => {
    for (const n of [1, 2]) {
      await store.accept(delivery(n), at(n));
      const job = `104${n}`;
      await store.append({
        ...openJob(job, { settles: `bench:${n}` }),
        events: [jobOpened(job), posted(n)],
      });
    }
    await store.accept(delivery(3), at(3));
    await store.setMark('shift', 'early');
    await store.close();
    const names = ['inbox.jsonl', 'index.jsonl', 'marks.jsonl', 'jobs/job-1041.json'];
    const good = new Map<string, Buffer>();
    for (const name of [...names, 'jobs/job-1042.json']) {
      good.set(name, await readFile(inFolder(name)));
    }
    const change = fc.record({
      name: fc.constantFrom(...names),
      place: fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }),
      how: fc.constantFrom('flip', 'cut', 'zero', 'insert', 'drop'),
      byte: fc.integer({ min: 1, max: 255 }),
    });
    await fc.assert(
      fc.asyncProperty(change, async ({ name, place, how, byte }) => {
        await harness.store.close();
        await store.close();
        for (const [path, bytes] of good) await writeFile(inFolder(path), bytes);
        const bytes = Buffer.from(good.get(name) ?? '');
        const spot = Math.floor(place * bytes.length);
        if (how === 'flip') bytes[spot] = (bytes[spot] ?? 0) ^ byte;
        if (how === 'zero') bytes[spot] = 0;
        const changed =
          how === 'cut'
            ? bytes.subarray(0, spot)
            : how === 'insert'
              ? Buffer.concat([bytes.subarray(0, spot), Buffer.of(byte), bytes.subarray(spot)])
              : how === 'drop'
                ? Buffer.concat([bytes.subarray(0, spot), bytes.subarray(spot + 1)])
                : bytes;
        await writeFile(inFolder(name), changed);
        store = await harness.restart().catch(async (error: unknown) => {
          // A digit of the format may have become a higher one: then the file is left alone, and that is said.
          expect(error).toMatchObject({ kind: 'newer-format' });
          await writeFile(inFolder(name), good.get(name) ?? '');
          return harness.restart();
        });
        const other = await store.load('1042');
        expect(other === undefined ? [] : textsOf(other)).toEqual(['drained 2 L']);
        const job = await store.load('1041').catch((error: unknown) => {
          expect(error).toBeInstanceOf(StoreTrouble);
          return undefined;
        });
        if (job !== undefined) expect(textsOf(job)).toEqual(['drained 1 L']);
        expect([undefined, 'early']).toContain(await store.mark('shift'));
        for (const { delivery: d } of await store.waiting()) expect(d).toEqual(delivery(3));
      }),
      { numRuns: Math.ceil(FUZZ / 50), seed: 1042 },
    );
  }, 600_000);

  describe('removal', () => {
    const rewritten = async (): Promise<string> => {
      let all = '';
      for (const name of await readdir(harness.folder, { recursive: true })) {
        if (/\.jsonl?$/.test(name)) all += await readFile(inFolder(name), 'utf8');
      }
      return all;
    };

    it('a retention rule takes the texts from every file, keeps the facts, and the chain verifies', async () => {
      await store.accept(delivery(1, 'fuel lines off'), at(1));
      await store.append({
        ...openJob('1042', { settles: 'bench:1' }),
        events: [jobOpened('1042'), posted(1, 'fuel lines off')],
      });
      const before = await store.verify('1042');
      expect(await rewritten()).toContain('fuel lines off');
      expect(await store.removeTexts('1042', (event) => event.kind === 'message-posted')).toBe(1);
      expect(await rewritten()).not.toContain('fuel lines off');
      store = await harness.restart();
      const job = await store.load('1042');
      expect(job === undefined ? [] : textsOf(job)).toEqual([null]);
      expect(job?.events[1]?.event).toMatchObject({ by: 'Jo', at: at(1), message: 'm1' });
      expect(await store.verify('1042')).toEqual({ ...before, removed: 1 });
      expect(await store.removeTexts('1042', () => false)).toBe(0);
      expect(await store.removeTexts('none', () => true)).toBe(0);
    });

    it('a person goes from every job and file, and nobody else does', async () => {
      await store.append({
        ...openJob('1042', { threads: [thread('1042')] }),
        events: [
          jobOpened('1042'),
          posted(1, 'fuel lines off'),
          posted(2, 'joanna did the lines, Johan the filter', 'Kim'),
          posted(3, 'Johan again', 'Kim'),
        ],
      });
      await store.append(openJob('1043', { index: indexOf('1043', { technician: 'Kim' }) }));
      const before = await store.verify('1042');
      expect(await store.removePerson(['Jo', 'Joanna'])).toBe(2);
      const all = await rewritten();
      expect(all).not.toMatch(/\bJo\b|Joanna/i);
      expect(all).toContain('Johan again');
      expect(all).toContain('fuel lines off');
      expect((await store.list()).map((entry) => entry.technician)).toEqual([
        'removed person 2',
        'Kim',
      ]);
      store = await harness.restart();
      expect(await store.verify('1042')).toMatchObject({ good: true });
      const after = await store.verify('1042');
      expect(after?.good && before?.good && after.end === before.end).toBe(true);
      expect(await store.removePerson(['Jo', 'Joanna'])).toBe(0);
      expect(await store.removePerson(['', ' '])).toBe(0);
    });

    it('verify tells where a file was changed by somebody who knew the check sum', async () => {
      await store.append({ ...openJob('1042'), events: [jobOpened('1042'), posted(1)] });
      const { data } = parseText(await readFile(jobPath('1042'), 'utf8'));
      const forged = JSON.stringify(data).replace('drained 1 L', 'drained 9 L');
      await writeFile(jobPath('1042'), fileContent(1, forged));
      expect(await store.verify('1042')).toMatchObject({ good: false, at: 1 });
      expect(await store.verify('none')).toBeUndefined();
    });
  });
});
