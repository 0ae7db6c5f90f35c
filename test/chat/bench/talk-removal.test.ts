// Old words go out of the talk while people go on talking: in the files and on the page, and nothing said meanwhile is lost.
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { openConversation } from '../../../src/chat/bench/talk/conversation.ts';
import type { Line } from '../../../src/chat/bench/talk/entry.ts';
import { wordlessBefore } from '../../../src/chat/bench/talk/removal.ts';

const OLD = '2026-03-01T08:00:00.000Z';
const LIMIT = '2026-03-05T00:00:00.000Z';
const NEW = '2026-03-10T08:00:00.000Z';
const said = (id: string, at: string, text: string): Line => ({
  ...{ what: 'said', id, client: `c-${id}`, at, by: 'Ada', text },
});

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bench-talk-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

it('removes what is old from the yard and the threads that are not kept, and keeps all else', async () => {
  const talk = await openConversation(folder);
  for (const root of ['over', 'open']) {
    await talk.add(talk.yard, said(root, OLD, `root ${root}`));
    const thread = await talk.thread(root);
    if (!thread) throw new Error('The thread does not open.');
    await talk.add(thread, said(`${root}-1`, OLD, `secret ${root}`));
    await talk.add(thread, said(`${root}-2`, NEW, `new ${root}`));
  }
  const kept = new Set(['open']);
  const removing = talk.change?.(wordlessBefore(LIMIT, kept), kept);
  const meanwhile = Array.from({ length: 40 }, (_, n) =>
    talk.add(talk.yard, said(`now-${n}`, NEW, `meanwhile ${n}`)),
  );
  expect(await removing).toBe(2);
  await Promise.all(meanwhile);
  await talk.add(talk.yard, said('after', NEW, 'afterwards'));
  const look = async (from: typeof talk) => ({
    yard: from.yard.entries().map(({ text }) => text),
    over: (await from.thread('over'))?.entries().map(({ text }) => text),
    open: (await from.thread('open'))?.entries().map(({ text }) => text),
  });
  const here = await look(talk);
  await talk.close();
  expect(here.yard).toEqual([
    ...['(removed)', 'root open'],
    ...meanwhile.map((_, n) => `meanwhile ${n}`),
    'afterwards',
  ]);
  expect(here.over?.slice(1)).toEqual(['(removed)', 'new over']);
  expect(here.open).toEqual(['root open', 'secret open', 'new open']);
  expect(await readFile(join(folder, 'threads', 'over.jsonl'), 'utf8')).not.toContain('secret');
  expect(await readFile(join(folder, 'yard.jsonl'), 'utf8')).not.toContain('root over');
  // What a start reads from the files is what stood there before.
  const again = await openConversation(folder);
  expect((await look(again)).yard).toEqual(here.yard);
  expect((await look(again)).over?.slice(1)).toEqual(here.over?.slice(1));
  await again.close();
});

it('changes nothing where nothing is old', async () => {
  const talk = await openConversation(folder);
  await talk.add(talk.yard, said('a', NEW, 'today'));
  expect(await talk.change?.(wordlessBefore(LIMIT, new Set()), new Set())).toBe(0);
  await talk.close();
});
