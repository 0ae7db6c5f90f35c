// Photos and files of a message: fetched, hashed, kept by the job.
import { createHash } from 'node:crypto';
import type { Delivery } from '../../shared/delivery.ts';
import type { JobEvent } from '../../shared/event.ts';
import type { Channel } from '../chat/channel.ts';
import type { JobStore } from '../store/job-store.ts';

/** Bytes of one file; a larger one is left where it is. */
const FILE_LIMIT = 12 * 1024 * 1024;

type Parts = {
  readonly store: JobStore;
  readonly channel: Channel | undefined;
  readonly log: (level: 'info' | 'warn' | 'error', what: string, more?: object) => void;
};

/** @returns one event for each file that was kept; one that could not be fetched is logged and left out */
export const keepFiles = async (
  { store, channel, log }: Parts,
  job: string,
  delivery: Delivery,
  message: string,
  by: string,
): Promise<readonly JobEvent[]> => {
  if (delivery.kind !== 'message' || !delivery.files?.length) return [];
  const events: JobEvent[] = [];
  for (const [number, file] of delivery.files.entries()) {
    const bytes = await channel?.fetch?.(file.from, FILE_LIMIT).catch((error: Error) => {
      log('warn', 'a file could not be fetched', { job, name: file.name, why: error.message });
      return undefined;
    });
    if (!bytes) continue;
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
  return events;
};
