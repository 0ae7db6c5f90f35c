// Pictures and documents that people's Teams fetches from us: kept under names nobody can guess, for a while.
import { randomBytes } from 'node:crypto';
import { mkdir, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { SharedShelf } from '../../store/shared-shelf.ts';

/** Days after which a kept file goes; the service keeps its own copy of a picture that was shown. */
export const KEEP_DAYS = 30;

const KINDS = {
  png: 'image/png',
  jpg: 'image/jpeg',
  pdf: 'application/pdf',
  csv: 'text/csv; charset=utf-8',
  json: 'application/json; charset=utf-8',
} as const;
export type Kind = keyof typeof KINDS;

/** The ending under which a media type is kept; undefined for one that is not served. */
export const kindOf = (type: string): Kind | undefined => {
  const plain = type.split(';')[0]?.trim().toLowerCase();
  return (Object.keys(KINDS) as Kind[]).find((kind) => KINDS[kind].split(';')[0] === plain);
};

const NAME = /^[0-9a-f]{64}\.(?<kind>png|jpg|pdf|csv|json)$/u;

export type Shelf = {
  /** @returns the name under which it is served, 256 random bits */
  readonly keep: (bytes: Uint8Array, kind: Kind) => Promise<string>;
  readonly take: (
    name: string,
  ) => Promise<{ readonly bytes: Uint8Array; readonly type: string } | undefined>;
  /** Takes away what is older than it is kept. */
  readonly clear: (now: number) => Promise<void>;
};

/** @param folder made when the first file is kept */
export const pictureShelf = (folder: string): Shelf => ({
  keep: async (bytes, kind) => {
    const name = `${randomBytes(32).toString('hex')}.${kind}`;
    await mkdir(folder, { recursive: true });
    await writeFile(join(folder, name), bytes, { flag: 'wx', mode: 0o600 });
    return name;
  },
  take: async (name) => {
    const kind = NAME.exec(name)?.groups?.kind as Kind | undefined;
    if (!kind) return undefined;
    try {
      return { bytes: await readFile(join(folder, name)), type: KINDS[kind] };
    } catch {
      return undefined;
    }
  },
  clear: async (now) => {
    const names = await readdir(folder).catch(() => []);
    for (const name of names.filter((each) => NAME.test(each))) {
      const file = join(folder, name);
      const facts = await stat(file).catch(() => undefined);
      if (facts && now - facts.mtimeMs > KEEP_DAYS * 86_400_000) await rm(file, { force: true });
    }
  },
});

/** Of several processes any may be asked for what another one posted: then it lies where all of them reach it. */
export const sharedPictures = (
  shared: Pick<SharedShelf, 'keepBytes' | 'readBytes' | 'clearBytes'>,
): Shelf => ({
  keep: async (bytes, kind) => {
    const name = `${randomBytes(32).toString('hex')}.${kind}`;
    await shared.keepBytes(`picture:${name}`, bytes);
    return name;
  },
  take: async (name) => {
    const kind = NAME.exec(name)?.groups?.kind as Kind | undefined;
    const bytes = kind && (await shared.readBytes(`picture:${name}`));
    return kind && bytes ? { bytes, type: KINDS[kind] } : undefined;
  },
  clear: () => shared.clearBytes('picture:', KEEP_DAYS),
});
