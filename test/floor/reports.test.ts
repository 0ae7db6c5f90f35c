// Pictures and papers asked for in a thread and in the channel: made, kept, sent, and read back as they were made.
import { createHash } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { JobRecord } from '../../shared/record.ts';
import { documentPdf } from '../../src/chat/document-pdf.ts';
import { makeFiles } from '../../src/floor/make-files.ts';
import { pastPaces } from '../../src/floor/past-paces.ts';
import { verifyChain } from '../../src/store/chain.ts';
import type { IndexEntry } from '../../src/store/job-store.ts';
import {
  floorOn,
  keepingChannel,
  message,
  OPEN,
  SETTINGS,
  START,
  type TestFloor,
  temporaryFolder,
} from './workshop-floor.ts';

let folder: string;
let remove: () => Promise<void>;
const running: TestFloor[] = [];
beforeEach(async () => {
  ({ folder, remove } = await temporaryFolder());
});
afterEach(async () => {
  for (const floor of running.splice(0)) await floor.running.stop();
  await remove();
});

const begin = async () => {
  const bench = keepingChannel();
  const floor = await floorOn(folder, [bench]);
  running.push(floor);
  const say = async (id: string, by: string, text: string, thread?: string) => {
    await bench.intake().accept(message(id, by, text, thread === undefined ? {} : { thread }));
    await floor.calm();
    return bench.posted.at(-1);
  };
  await say('open', 'Robin', OPEN);
  const thread = (await floor.running.floor.shelved('1042'))?.threads[0]?.thread ?? '';
  return { floor, bench, say, thread };
};

describe('"record" in the thread', () => {
  it('sends the record as CSV and JSON, of the events as they were stored before', async () => {
    const { floor, bench, say, thread } = await begin();
    await say('1', 'Ada', 'chocks in', thread);
    const before = await floor.store.load('1042');
    const said = await say('2', 'Robin', 'record', thread);
    expect(said?.place.thread).toBe(thread);
    expect(said?.card.wants).toBeUndefined();
    expect(said?.card.files?.map(({ name, type }) => [name, type])).toEqual([
      ['job-1042-record.csv', 'text/csv'],
      ['job-1042-record.json', 'application/json'],
    ]);
    const [, json] = said?.card.files ?? [];
    const bytes = json && (await bench.intake().fileOf?.(json));
    if (!bytes) throw new Error('The file is not kept.');
    expect(bytes.byteLength).toBe(json.bytes);
    expect(json.kept.startsWith(createHash('sha256').update(bytes).digest('hex'))).toBe(true);
    const record = JobRecord.parse(JSON.parse(Buffer.from(bytes).toString()));
    expect(record.job.number).toBe('1042');
    // The chain's end is that of the events it was made from, and can be followed to.
    expect(record.chain.events).toBe(before?.events.length);
    expect(record.chain.end).toBe(before?.events.at(-1)?.hash);
    const after = await floor.store.load('1042');
    expect(verifyChain(after?.events ?? [])).toMatchObject({ good: true });
    // Without a printer for PDF it says how to have one.
    expect(said?.card.text).toContain('npx chargehand record 1042 --format pdf');
  });

  it('shows hours to a thread only where everybody may see them', async () => {
    const { say, bench, thread } = await begin();
    const said = await say('2', 'Robin', 'record', thread);
    const json = said?.card.files?.find(({ type }) => type === 'application/json');
    const bytes = json && (await bench.intake().fileOf?.(json));
    expect(JSON.parse(Buffer.from(bytes ?? []).toString()).minutes).toBeUndefined();
  });

  it('asked for in the channel by its number goes to the thread of the job', async () => {
    const { say, thread } = await begin();
    const said = await say('2', 'Robin', 'record 1042');
    expect(said?.place.thread).toBe(thread);
    expect(said?.card.files).toHaveLength(2);
  });

  it('prints a PDF where there is a printer, and says how many pages it has', async () => {
    const { floor } = await begin();
    const shelved = await floor.running.floor.shelved('1042');
    if (!shelved) throw new Error('The job is not there.');
    const made = makeFiles({
      store: floor.store,
      print: (document) => documentPdf(document),
      settings: () => SETTINGS,
      now: () => '2026-03-10T07:00:00.000Z',
      log: () => undefined,
    });
    const [post] = await made(
      [
        {
          key: 'reply:1',
          to: { where: 'thread' },
          card: { text: 'Record.', blocks: [], wants: ['record-pdf', 'claim-pdf'] },
          edit: true,
          urgent: false,
        },
      ],
      shelved.state.view,
      {},
    );
    expect(post?.card?.files?.map(({ name }) => name)).toEqual([
      'job-1042-record.pdf',
      'job-1042-claim.pdf',
    ]);
    for (const file of post?.card?.files ?? []) {
      expect(file.says).toMatch(/to print, [1-9]\d* pages?$/u);
      const bytes = await floor.store.readFile('1042', file.kept);
      expect(
        Buffer.from(bytes ?? [])
          .subarray(0, 5)
          .toString(),
      ).toBe('%PDF-');
    }
    expect(post?.card?.text).not.toContain('Not every file');
  });
});

describe('pictures', () => {
  it('of a job come with the same content in words, light and dark', async () => {
    const { say, thread } = await begin();
    await say('1', 'Ada', 'chocks in', thread);
    const card = (await say('2', 'Robin', 'timeline', thread))?.card;
    expect(card?.picture?.svg).toContain('<svg');
    expect(card?.picture?.dark).not.toBe(card?.picture?.svg);
    expect(card?.text).toMatch(/Make safe: 1 of \d+ done/u);
    expect(card?.text).toMatch(/Ready .*cautiously/u);
  });

  it('of all open jobs are shown in the channel, to a forecast without a job as well', async () => {
    const { say } = await begin();
    for (const text of ['hours ahead', 'forecast']) {
      const said = await say(text, 'Kim', text);
      expect(said?.place.thread).toBeUndefined();
      expect(said?.card.text).toMatch(/^Hours ahead, 1 open job\.\n1042 bus 17: .* ahead/u);
      expect(said?.card.picture?.svg).toContain('<svg');
    }
  });
});

describe('what past jobs tell', () => {
  const entry = (job: string, more: Partial<IndexEntry> = {}): IndexEntry => ({
    job,
    vehicle: 'bus 17',
    plan: 'coolant-pump',
    status: 'closed',
    openedAt: START,
    closedAt: `2026-03-0${job}T12:00:00Z`,
    threads: [],
    ...more,
  });

  it('is asked of the closed jobs on the same plan, each once, the oldest first', async () => {
    const asked: string[] = [];
    const paces = pastPaces({
      index: () => [
        entry('3'),
        entry('1'),
        entry('2', { plan: 'clutch' }),
        entry('4', { status: 'cancelled' }),
      ],
      viewsOf: async (entries) => {
        asked.push(...entries.map(({ job }) => job));
        return [];
      },
      settings: SETTINGS,
    });
    await paces(new Set(['coolant-pump']));
    await paces(new Set(['coolant-pump']));
    expect(asked).toEqual(['1', '3']);
  });

  it('comes with the views of the open jobs', async () => {
    const { floor } = await begin();
    const moment = await floor.running.floor.momentFor(undefined, undefined, { openJobs: true });
    expect(moment.openJobs).toHaveLength(1);
    expect([...(moment.paces?.keys() ?? [])]).toEqual(['coolant-pump']);
  });
});
