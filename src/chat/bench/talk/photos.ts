// Photos from the page: limited by size and by what they really are, kept under names of our own.
import type { PhotoBytes } from '../kept/bench-kept.ts';
import { type Refusal, refusal } from '../refusal.ts';

export const PHOTO_LIMIT = 6_000_000;
const NAME = /^[a-z0-9-]{8,80}\.(jpg|png|webp)$/;

export const PHOTO_TYPES: Readonly<Record<string, string>> = {
  jpg: 'image/jpeg',
  png: 'image/png',
  webp: 'image/webp',
};

export type Photos = {
  /** Keeps a photo under the sender's own id, once, and resolves with its name when it is synced. */
  readonly keep: (bytes: Uint8Array, id: string) => Promise<{ readonly name: string } | Refusal>;
  readonly about: (
    name: string,
  ) => Promise<{ readonly type: string; readonly bytes: number } | undefined>;
  readonly read: (name: string) => Promise<Uint8Array | undefined>;
};

/** The ending by the first bytes; what the sender calls it counts for nothing. */
function endingOf(bytes: Uint8Array): string | undefined {
  const starts = (signs: readonly number[], at = 0) =>
    signs.every((sign, index) => bytes[at + index] === sign);
  if (starts([0xff, 0xd8, 0xff])) return 'jpg';
  if (starts([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) return 'png';
  if (starts([0x52, 0x49, 0x46, 0x46]) && starts([0x57, 0x45, 0x42, 0x50], 8)) return 'webp';
  return undefined;
}

export function openPhotos(kept: PhotoBytes): Photos {
  return {
    keep: async (bytes, id) => {
      const ending = endingOf(bytes);
      if (ending === undefined) {
        return refusal(
          415,
          'This file is no photo the bench knows.',
          'Send a JPEG, PNG or WebP picture.',
        );
      }
      const name = `${id}.${ending}`;
      await kept.keep(name, bytes);
      return { name };
    },
    about: async (name) => {
      if (!NAME.test(name)) return undefined;
      const bytes = await kept.size(name);
      const type = PHOTO_TYPES[name.split('.').at(-1) ?? ''];
      return bytes === undefined || type === undefined ? undefined : { type, bytes };
    },
    read: async (name) => (NAME.test(name) ? kept.read(name) : undefined),
  };
}
