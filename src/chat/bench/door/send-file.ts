// What a card carries along: its picture, light or dark, and its files. Each opened by itself can run nothing.
import type { ServerResponse } from 'node:http';
import type { CardFile } from '../../../desk/card.ts';
import { type Refusal, refusal } from '../refusal.ts';
import type { Entry } from '../talk/entry.ts';
import { type BenchParts, isSeenBy, type Looking } from './bench-parts.ts';
import { send } from './send.ts';

const SHUT = "default-src 'none'; style-src 'unsafe-inline'; sandbox";

const entryAt = async (
  parts: BenchParts,
  url: URL,
  id: string,
  frame: Looking,
): Promise<Entry | undefined> => {
  const entry = (await parts.conversation.rollAt(url.searchParams.get('thread')))?.entry(id);
  return entry !== undefined && isSeenBy(entry, frame, parts.arrivals) ? entry : undefined;
};

/** "/picture/ID.svg", or "/picture/ID.dark.svg". */
export async function sendCardPicture(
  parts: BenchParts,
  response: ServerResponse,
  url: URL,
  frame: Looking,
): Promise<Refusal | undefined> {
  const name = url.pathname.split('/')[2] ?? '';
  const picture = (await entryAt(parts, url, name.replace(/(?:\.dark)?\.svg$/u, ''), frame))?.card
    ?.picture;
  const body = name.endsWith('.dark.svg') ? (picture?.dark ?? picture?.svg) : picture?.svg;
  if (body === undefined)
    return refusal(404, 'This picture is not on the bench.', 'Reload the page.');
  send(response, {
    type: 'image/svg+xml; charset=utf-8',
    body,
    headers: { 'content-security-policy': SHUT, 'cache-control': 'no-store' },
  });
  return undefined;
}

/** "/file/ID/KEPT": a file of the card, under the name people save it under. */
export async function sendCardFile(
  parts: BenchParts,
  response: ServerResponse,
  url: URL,
  frame: Looking,
): Promise<Refusal | undefined> {
  const [, , id = '', kept = ''] = url.pathname.split('/');
  const entry = await entryAt(parts, url, id, frame);
  const file = entry?.card?.files?.find((one: CardFile) => one.kept === kept);
  const bytes = file && (await parts.intake.fileOf?.(file));
  if (!file || !bytes)
    return refusal(404, 'This file is not here any more.', 'Ask for it again in the thread.');
  send(response, {
    type: file.type,
    body: bytes,
    headers: {
      'content-security-policy': SHUT,
      'cache-control': 'private, max-age=86400',
      'content-disposition': `attachment; filename="${file.name.replace(/[^A-Za-z0-9._-]/gu, '-')}"`,
    },
  });
  return undefined;
}
