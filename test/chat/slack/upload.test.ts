// Files and pictures into a thread: the sequence of three, and what becomes of it when a call of it fails.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { CardFile } from '../../../src/desk/card.ts';
import { ADA, joined, memoryStore, quick, until } from './set-up-channel.ts';

const PDF: CardFile = {
  job: '1042',
  kept: 'a'.repeat(64),
  name: 'job-1042-record.pdf',
  type: 'application/pdf',
  says: 'Job record to print, 7 pages',
  bytes: 9,
};
const BYTES = Buffer.from('%PDF-1.7.');
const PICTURE = {
  svg: '<svg xmlns="http://www.w3.org/2000/svg" width="20" height="10"><rect width="20" height="10"/></svg>',
  alt: 'The timeline of job 1042',
};

let all: Awaited<ReturnType<typeof joined>>;
let store: ReturnType<typeof memoryStore>;
beforeEach(async () => {
  store = memoryStore();
  all = await joined('socket', {
    patience: 300,
    parts: { store, wait: quick },
    files: async () => BYTES,
  });
  await until(() => all.fake.connections() === 1, 'it is connected');
});
afterEach(async () => {
  expect(all.fake.refused).toEqual([]);
  await all.end();
});

const root = () => all.fake.post(ADA, all.fake.channel, 'root');
const up = (thread: string, file: Parameters<NonNullable<typeof all.channel.upload>>[1] = PDF) =>
  all.channel.upload?.({ team: '', place: all.fake.channel, thread }, file, `1042|${thread}`);
const count = (method: string): number =>
  all.fake.calls.filter((each) => each.method === method).length;
const filesIn = (thread: string) => all.fake.thread(thread).flatMap((each) => each.files ?? []);

describe('a file', () => {
  it('reaches the thread whole, with its name and what it is', async () => {
    const thread = await root();
    expect((await up(thread))?.ok).toBe(true);
    await until(() => filesIn(thread).length === 1, 'it is shared');
    const [file] = filesIn(thread);
    expect(file).toMatchObject({
      name: 'job-1042-record.pdf',
      title: 'Job record to print, 7 pages',
      mimetype: 'application/pdf',
    });
    expect(Buffer.from(file?.bytes ?? [])).toEqual(BYTES);
    await all.fake.settled();
    // The share of its own file is nobody's report.
    expect(all.floor.kept.length).toBe(1);
  });

  it('that is a picture is sent as PNG, described in words', async () => {
    const thread = await root();
    const result = await up(thread, PICTURE);
    // A machine without a font makes no picture, and says so.
    expect(result?.ok).toBe(true);
    const said = all.fake.thread(thread).map((each) => each.text);
    if (said.some((text) => text.includes('no font'))) return;
    await until(() => filesIn(thread).length === 1, 'it is shared');
    const [file] = filesIn(thread);
    expect(file?.alt).toBe('The timeline of job 1042');
    expect(
      Buffer.from(file?.bytes ?? [])
        .subarray(1, 4)
        .toString(),
    ).toBe('PNG');
  });

  it.each([
    ['the address was not given', 'files.getUploadURLExternal'],
    ['its bytes did not arrive', 'upload'],
  ])('is begun anew where %s, and seen once', async (_, method) => {
    const thread = await root();
    all.fake.knobs.fail(method, '500');
    expect(await up(thread)).toMatchObject({ ok: false, failure: { kind: 'unclear' } });
    expect((await up(thread))?.ok).toBe(true);
    await until(() => filesIn(thread).length === 1, 'it is shared');
    expect(filesIn(thread).length).toBe(1);
  });

  it('is not sent again where the end was reached but the answer was lost', async () => {
    const thread = await root();
    all.fake.knobs.fail('files.completeUploadExternal', 'reset', 1, true);
    expect(await up(thread)).toMatchObject({ ok: false, failure: { kind: 'unclear' } });
    await until(() => filesIn(thread).length === 1, 'it is shared');
    expect((await up(thread))?.ok).toBe(true);
    expect(filesIn(thread).length).toBe(1);
    expect(count('upload')).toBe(1);
    expect(count('files.completeUploadExternal')).toBe(1);
  });

  it('is completed again by the same id where the end was not reached', async () => {
    const thread = await root();
    all.fake.knobs.fail('files.completeUploadExternal', '500');
    await up(thread);
    expect((await up(thread))?.ok).toBe(true);
    await until(() => filesIn(thread).length === 1, 'it is shared');
    expect(count('files.getUploadURLExternal')).toBeLessThanOrEqual(2);
    expect(filesIn(thread).length).toBe(1);
  });

  it('that the platform finishes later is looked for, and not shared twice', async () => {
    const thread = await root();
    all.fake.knobs.unfinished();
    all.fake.knobs.fail('files.completeUploadExternal', 'reset', 1, true);
    await up(thread);
    expect((await up(thread))?.ok).toBe(true);
    expect(count('files.info')).toBeGreaterThan(1);
    all.fake.knobs.finish();
    await until(() => filesIn(thread).length === 1, 'it is shared');
    expect(filesIn(thread).length).toBe(1);
    expect(count('upload')).toBe(1);
  });

  it('is known again after a restart, by the key of its post', async () => {
    const thread = await root();
    expect((await up(thread))?.ok).toBe(true);
    await until(() => filesIn(thread).length === 1, 'it is shared');
    const again = await joined('socket', { parts: { store, wait: quick }, fake: all.fake });
    await again.channel.upload?.(
      { team: '', place: all.fake.channel, thread },
      PDF,
      `1042|${thread}`,
    );
    await again.channel.stop();
    expect(filesIn(thread).length).toBe(1);
    expect(count('upload')).toBe(1);
  });

  it('that the app may not send is said in the thread once, with what to do', async () => {
    const thread = await root();
    all.fake.knobs.fail('files.getUploadURLExternal', {
      error: 'missing_scope',
    });
    expect((await up(thread))?.ok).toBe(true);
    expect(all.fake.thread(thread).map((each) => each.text)).toEqual([
      'The file job-1042-record.pdf could not be sent. The app has no scope for this. Add it from the manifest and install the app again.',
    ]);
  });

  it('waits where Slack says to wait', async () => {
    const thread = await root();
    all.fake.knobs.fail('files.getUploadURLExternal', '429');
    expect(await up(thread)).toEqual({ ok: false, failure: { kind: 'wait', seconds: 7 } });
  });

  it('that only one person is answered with goes to that person', async () => {
    const place = { team: '', place: all.fake.channel, person: ADA };
    const result = await all.channel.upload?.(place, PDF, 'alone');
    expect(result?.ok && result.posted.place.place).toMatch(/^D/u);
    expect(all.fake.messages(all.fake.channel)).toEqual([]);
  });
});
