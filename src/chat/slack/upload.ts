// Files and pictures into a channel, by Slack's sequence of three: ask for an address, send the bytes there, complete. The
// platform finishes later and names no message; so what is unclear is looked up by the id of the file, never sent anew.
import { createHash } from 'node:crypto';
import type { WebClient } from '@slack/web-api';
import type { CardFile, CardPicture } from '../../desk/card.ts';
import type { Place, PostResult } from '../channel.ts';
import { picturePng } from '../picture-png.ts';
import { shorten, tidy } from '../plain-words.ts';
import { trustedHost } from './fetch-file.ts';
import { at, parseJson, payload } from './json.ts';
import { UPLOAD_ALT, UPLOAD_TITLE } from './limits.ts';
import { errorName, failureOf } from './post-failure.ts';
import type { Marks } from './seen-mark.ts';

export type UploadOptions = {
  readonly web: WebClient;
  readonly team: () => string;
  readonly marks: Marks;
  readonly apiUrl: string | undefined;
  readonly fetch: typeof globalThis.fetch;
  readonly bytesOf: (file: CardFile) => Promise<Uint8Array | undefined>;
  /** The conversation behind a place: a person's id stands for the direct conversation with them. */
  readonly conversationOf: (place: string) => Promise<string>;
  readonly wait: (seconds: number) => Promise<void>;
  /** Says in the place of the file that it is not there, and why. */
  readonly say: (place: Place, text: string, key: string) => Promise<PostResult>;
};

/** Milliseconds for sending the bytes. */
const TIME_LIMIT = 60_000;
/** Looks for a share that is not seen yet, and seconds between them. */
const LOOKS = 4;
const BETWEEN = 2;
/** Uploads whose file ids are kept. */
const REMEMBERED = 100;

type Ready = {
  readonly name: string;
  readonly title: string;
  readonly alt?: string;
  readonly type: string;
  readonly bytes: Uint8Array;
};

const refused = (why: string): PostResult => ({ ok: false, failure: { kind: 'refused', why } });
const unclear = (why: string): PostResult => ({ ok: false, failure: { kind: 'unclear', why } });
const line = (text: string, most: number): string =>
  shorten(tidy(text).replace(/\s+/gu, ' ').trim() || 'file', most);

/** Whether a file is shared in a channel, as files.info tells it. */
const isShared = (info: unknown, channel: string): boolean =>
  ['public', 'private'].some((kind) => {
    const shares = payload(at(info, `file.shares.${kind}`));
    const there = shares && Object.hasOwn(shares, channel) ? shares[channel] : undefined;
    return Array.isArray(there) && there.length > 0;
  }) ||
  ['channels', 'groups', 'ims'].some((list) => {
    const all = at(info, `file.${list}`);
    return Array.isArray(all) && all.includes(channel);
  });

export const uploader = (options: UploadOptions) => {
  const { web, marks, fetch } = options;
  const markName = (): string => `slack-uploads:${options.team()}`;

  /** Files that were sent lately, by key, kept across restarts: whether the end of one was settled nobody may know. */
  const sentLately = async (): Promise<ReadonlyMap<string, string>> => {
    const kept = payload(parseJson((await marks.mark(markName())) ?? ''));
    return new Map(
      Object.entries(kept ?? {}).filter(
        (each): each is [string, string] => typeof each[1] === 'string',
      ),
    );
  };
  const remember = async (key: string, file: string | undefined): Promise<void> => {
    const all = new Map(await sentLately());
    all.delete(key);
    if (file) all.set(key, file);
    await marks.setMark(
      markName(),
      JSON.stringify(Object.fromEntries([...all].slice(-REMEMBERED))),
    );
  };

  const readied = async (file: CardFile | CardPicture): Promise<Ready | PostResult> => {
    if ('svg' in file) {
      const made = picturePng({ svg: file.svg });
      return made.ok
        ? {
            name: 'picture.png',
            title: line(file.alt, UPLOAD_TITLE),
            alt: line(file.alt, UPLOAD_ALT),
            type: 'image/png',
            bytes: made.png,
          }
        : refused(`${made.what} ${made.doThis}`);
    }
    const bytes = await options.bytesOf(file);
    return bytes
      ? { name: file.name, title: line(file.says, UPLOAD_TITLE), type: file.type, bytes }
      : refused('The file is not kept any more. Ask for it again.');
  };

  const done = (place: Place, channel: string, file: string): PostResult => {
    const { person: _, ...rest } = place;
    return {
      ok: true,
      posted: { message: file, place: { ...rest, team: options.team(), place: channel } },
    };
  };

  /** Looks a few times, since a share is seen some seconds after it was made. */
  const seenShared = async (file: string, channel: string): Promise<boolean | 'gone'> => {
    for (let look = 0; look < LOOKS; look += 1) {
      if (look > 0) await options.wait(BETWEEN);
      try {
        if (isShared(await web.files.info({ file }), channel)) return true;
      } catch (error) {
        // A file that was not completed is not known; neither is one whose address has run out.
        if (/^(?:file_not_found|file_deleted)$/u.test(errorName(error) ?? '')) return 'gone';
        throw error;
      }
    }
    return false;
  };

  const complete = async (
    place: Place,
    channel: string,
    file: string,
    title: string,
  ): Promise<PostResult> => {
    await web.files.completeUploadExternal({
      files: [{ id: file, title }],
      channel_id: channel,
      ...(place.thread ? { thread_ts: place.thread } : {}),
    } as Parameters<WebClient['files']['completeUploadExternal']>[0]);
    return done(place, channel, file);
  };

  const send = async (
    place: Place,
    file: CardFile | CardPicture,
    outboxKey: string,
  ): Promise<PostResult> => {
    const key = createHash('sha256').update(outboxKey).digest('hex').slice(0, 32);
    try {
      // What only one person is answered is not shown to a channel: it goes to them directly.
      const alone = place.person !== undefined && place.thread === undefined;
      const channel = await options.conversationOf(alone ? (place.person ?? '') : place.place);
      const ready = await readied(file);
      if ('ok' in ready) return ready;
      const before = (await sentLately()).get(key);
      if (before !== undefined) {
        const seen = await seenShared(before, channel);
        if (seen === true) return done(place, channel, before);
        if (seen === false) return await complete(place, channel, before, ready.title);
        await remember(key, undefined);
      }
      const given = await web.files.getUploadURLExternal({
        filename: ready.name,
        length: ready.bytes.byteLength,
        ...(ready.alt ? { alt_text: ready.alt } : {}),
      });
      const { upload_url: address, file_id: id } = given;
      if (!address || !id) return unclear('Slack named no address for the file.');
      if (!URL.canParse(address) || !trustedHost(new URL(address), options.apiUrl))
        return refused('Slack named an address that is not its own. The file was not sent.');
      const sent = await fetch(address, {
        method: 'POST',
        body: Buffer.from(ready.bytes),
        headers: { 'content-type': ready.type },
        redirect: 'error',
        signal: AbortSignal.timeout(TIME_LIMIT),
      });
      // Nothing is to be seen of a file until it is completed, so beginning anew posts nothing twice.
      if (!sent.ok) return unclear(`Slack answered ${sent.status} to the bytes of the file.`);
      await remember(key, id);
      return await complete(place, channel, id, ready.title);
    } catch (error) {
      return { ok: false, failure: failureOf(error) };
    }
  };

  /** A file that cannot be sent is said where it is waited for, once; trying again would not mend it. */
  const saidIfRefused = async (
    place: Place,
    file: CardFile | CardPicture,
    key: string,
    result: PostResult,
  ): Promise<PostResult> => {
    if (result.ok || result.failure.kind !== 'refused') return result;
    const name = 'svg' in file ? 'The picture' : `The file ${file.name}`;
    return options.say(place, `${name} could not be sent. ${result.failure.why}`, `${key}|said`);
  };

  return async (
    place: Place,
    file: CardFile | CardPicture,
    outboxKey: string,
  ): Promise<PostResult> =>
    saidIfRefused(place, file, outboxKey, await send(place, file, outboxKey));
};
