// People on the bench page: what its script sends, over HTTP.
import { benchChannel } from '../../src/chat/bench/bench-channel.ts';
import { benchViewOf } from '../../src/floor/bench-jobs.ts';
import type { MakeDoor } from './floor-stage.ts';

export const benchDoor: MakeDoor = async ({ folder, clock, running }) => {
  const channel = benchChannel({
    folder,
    port: 0,
    host: '127.0.0.1',
    clock: clock.now,
    view: benchViewOf(
      () => running().floor,
      (listener) => running().onChange(listener),
    ),
    threadOf: async (job) => (await running().floor.shelved(job))?.threads[0]?.thread,
  });
  let number = 0;
  const send = async (path: string, by: string, body: object): Promise<string> => {
    number += 1;
    const id = `conversation-${String(number).padStart(6, '0')}`;
    const response = await fetch(new URL(path, channel.address()), {
      method: 'POST',
      headers: { 'content-type': 'application/json', cookie: await cookieOf(by) },
      body: JSON.stringify({ id, ...body }),
    });
    if (!response.ok)
      throw new Error(`${path} answered ${response.status}: ${await response.text()}`);
    return id;
  };
  const cookies = new Map<string, string>();
  const cookieOf = async (name: string): Promise<string> => {
    const known = cookies.get(name);
    if (known !== undefined) return known;
    const response = await fetch(new URL('/api/who', channel.address()), {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ name }),
    });
    const cookie = response.headers.get('set-cookie')?.split(';')[0];
    if (!cookie)
      throw new Error(`${name} could not be chosen as the one who posts: ${response.status}`);
    cookies.set(name, cookie);
    return cookie;
  };
  return {
    channel,
    home: { team: 'bench', place: 'yard' },
    post: async (by, text, thread) =>
      `m-${await send('/api/message', by, { thread: thread ?? null, text })}`,
    edit: async (by, message, text, thread) =>
      void (await send('/api/change', by, { thread: thread ?? null, message, text })),
    remove: async (by, message, thread) =>
      void (await send('/api/take-back', by, { thread: thread ?? null, message })),
    tap: async (by, action, message, fields, thread) =>
      void (await send('/api/tap', by, {
        thread: thread ?? null,
        intent: action.intent,
        message,
        ...(Object.keys(fields).length > 0 ? { fields } : {}),
      })),
  };
};
