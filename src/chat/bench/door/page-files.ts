// The page's script, style and picture: the files of one folder, read once, and nothing else.
import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import type { Answer } from './send.ts';

const TYPES: Readonly<Record<string, string>> = {
  js: 'text/javascript; charset=utf-8',
  css: 'text/css; charset=utf-8',
  svg: 'image/svg+xml',
};

/** The answer for each file by its name. */
export async function readPageFiles(): Promise<ReadonlyMap<string, Answer & { etag: string }>> {
  const folder = new URL('../page/', import.meta.url);
  const files = new Map<string, Answer & { etag: string }>();
  for (const name of await readdir(folder)) {
    const type = TYPES[name.split('.').at(-1) ?? ''];
    if (type === undefined) continue;
    const body = await readFile(new URL(name, folder));
    const etag = `"${createHash('sha256').update(body).digest('base64url').slice(0, 22)}"`;
    files.set(name, {
      type,
      body,
      etag,
      headers: { 'cache-control': 'no-cache', 'service-worker-allowed': '/', etag },
    });
  }
  return files;
}
