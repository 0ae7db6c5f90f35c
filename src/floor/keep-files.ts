// Photos and files of a message: fetched, hashed, kept by the job.
import { createHash } from 'node:crypto';
import type { Delivery } from '../../shared/delivery.ts';
import type { JobEvent } from '../../shared/event.ts';
import type { Channel } from '../chat/channel.ts';
import type { JobStore } from '../store/job-store.ts';

/** Bytes of one file; a larger one is left where it is. */
const FILE_LIMIT = 12 * 1024 * 1024;

/** Kinds that are evidence. What could run when it is opened is none. */
const KEPT =
  /^(?:image\/(?:jpeg|png|webp|gif|heic|heif|avif)|video\/(?:mp4|quicktime|webm)|audio\/(?:mp4|mpeg|ogg|webm|wav)|application\/pdf|text\/(?:plain|csv))$/u;

/** A file that was not kept, and why in a sentence with what to do. */
export type Lost = { readonly name: string; readonly why: string };

export type KeptFiles = { readonly events: readonly JobEvent[]; readonly lost: readonly Lost[] };

type Parts = {
  readonly store: JobStore;
  readonly channel: Channel | undefined;
  readonly log: (level: 'info' | 'warn' | 'error', what: string, more?: object) => void;
};

const whyNot = (file: { readonly type: string; readonly bytes: number }): string | undefined => {
  if (!KEPT.test(file.type.split(';')[0]?.trim().toLowerCase() ?? ''))
    return 'Only photos, films, sound, PDF and text are kept. Share it as one of these.';
  return file.bytes > FILE_LIMIT
    ? `It is larger than ${FILE_LIMIT / 1024 / 1024} MB. Share a smaller one.`
    : undefined;
};

/** @returns one event for each file that was kept, and those that were not with the reason */
export const keepFiles = async (
  { store, channel, log }: Parts,
  job: string,
  delivery: Delivery,
  message: string,
  by: string,
): Promise<KeptFiles> => {
  if (delivery.kind !== 'message' || !delivery.files?.length) return { events: [], lost: [] };
  const events: JobEvent[] = [];
  const lost: Lost[] = [];
  for (const [number, file] of delivery.files.entries()) {
    const not = whyNot(file);
    const bytes = not
      ? undefined
      : await channel?.fetch?.(file.from, FILE_LIMIT).catch((error: Error) => {
          lost.push({ name: file.name, why: error.message });
          return undefined;
        });
    if (not) lost.push({ name: file.name, why: not });
    if (!bytes) {
      log('warn', 'a file was not kept', { job, name: file.name, why: lost.at(-1)?.why });
      continue;
    }
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    await store.keepFile(job, sha256, file.type, bytes);
    events.push({
      id: `${delivery.id}:photo:${number}`,
      at: delivery.at,
      by,
      kind: 'photo-kept',
      message,
      name: file.name,
      type: file.type,
      bytes: bytes.byteLength,
      sha256,
    });
  }
  return { events, lost };
};
