// Photos and files as evidence: fetched with the bot's token, hashed, kept by the job; and papers the other way.
import { createHash } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type InAWorkshop, inAWorkshop } from './in-a-workshop.ts';
import { ADA, until } from './set-up-channel.ts';

const JPEG = Buffer.from([0xff, 0xd8, 0xff, 0xe0, 1, 2, 3, 4]);
const photo = { name: 'bore 3.jpg', mimetype: 'image/jpeg', bytes: JPEG };

let all: InAWorkshop;
let root = '';
beforeEach(async () => {
  all = await inAWorkshop();
  root = await all.open();
}, 60_000);
afterEach(async () => {
  expect(all.fake.refused).toEqual([]);
  await all.end();
});

const kept = async () =>
  (await all.eventsOf('1050')).flatMap((event) => (event.kind === 'photo-kept' ? [event] : []));

describe('a photo', () => {
  it.each([
    ['with words', 'wheels chocked, parking brake on'],
    ['without', ''],
  ])('%s is kept by the job, byte for byte, under its hash', async (_, text) => {
    const ts = await all.said(ADA, text, { thread: root, files: [photo] });
    const sha256 = createHash('sha256').update(JPEG).digest('hex');
    expect(await kept()).toMatchObject([
      { by: 'Ada', name: 'bore 3.jpg', type: 'image/jpeg', bytes: JPEG.length, sha256 },
    ]);
    const bytes = await all.floor().floor.store.readFile('1050', `${sha256}.jpg`);
    expect(Buffer.from(bytes ?? [])).toEqual(JPEG);
    expect(all.fake.reactions(ts)).toEqual(['memo']);
  });

  it('that comes twice is kept once', async () => {
    all.fake.knobs.double(1);
    await all.said(ADA, '', { thread: root, files: [photo] });
    expect((await kept()).length).toBe(1);
  });

  it('that cannot be fetched is tried again, and kept then', async () => {
    all.fake.knobs.failFile(1);
    await all.said(ADA, 'wheels chocked, parking brake on', { thread: root, files: [photo] });
    expect((await kept()).length).toBe(1);
  });

  it('that cannot be fetched at all is said in the thread; the words are recorded all the same', async () => {
    all.fake.knobs.failFile(99);
    await all.said(ADA, 'wheels chocked, parking brake on', { thread: root, files: [photo] });
    expect(await kept()).toEqual([]);
    const said = all.fake.thread(root).map((each) => each.text);
    expect(said.join('\n')).toContain('"bore 3.jpg" was not kept');
    expect(await all.messagesOf('1050')).toEqual(['Ada: wheels chocked, parking brake on']);
  });

  it('larger than the limit, or of a kind that runs, is not kept, and that is said', async () => {
    await all.said(ADA, '', {
      thread: root,
      files: [{ name: 'run.exe', mimetype: 'application/x-msdownload', bytes: JPEG }],
    });
    await all.said(ADA, '', {
      thread: root,
      files: [
        { name: 'film.mp4', mimetype: 'video/mp4', bytes: Buffer.alloc(12 * 1024 * 1024 + 1) },
      ],
    });
    expect(await kept()).toEqual([]);
    const said = all.fake
      .thread(root)
      .map((each) => each.text)
      .join('\n');
    expect(said).toContain('"run.exe" was not kept');
    expect(said).toContain('"film.mp4" was not kept');
  });
});

describe('papers', () => {
  it('that were asked for reach the thread as files', async () => {
    await all.said(ADA, 'wheels chocked, parking brake on', root);
    await all.said(ADA, 'record', root);
    await until(
      () => all.fake.thread(root).some((each) => (each.files?.length ?? 0) > 0),
      'a file is in the thread',
    );
    const files = all.fake.thread(root).flatMap((each) => each.files ?? []);
    const pdf = files.find((file) => file.name.endsWith('.pdf'));
    expect(
      Buffer.from(pdf?.bytes ?? [])
        .subarray(0, 5)
        .toString(),
    ).toBe('%PDF-');
    expect(files.some((file) => file.name.endsWith('.csv'))).toBe(true);
  });
});
