// What the lines of the inbox file say, and what is known once they are read.
import { createHash } from 'node:crypto';
import { z } from 'zod';
import { Delivery } from '../../shared/delivery.ts';
import type { Waiting } from './job-store.ts';
import { StoreTrouble } from './store-trouble.ts';

/**
 * So many ids and keys are remembered at the least, the newest ones. At three for a delivery and 500 deliveries a day
 * that is 40 days; the platforms deliver again within hours.
 */
export const REMEMBERED_KEYS = 60_000;
const Line = z.discriminatedUnion('k', [
  z.strictObject({ k: z.literal('format'), format: z.literal(1) }),
  z.strictObject({ k: z.literal('seen'), keys: z.array(z.string()) }),
  z.strictObject({ k: z.literal('accepted'), at: z.string(), delivery: Delivery }),
  z.strictObject({ k: z.literal('settled'), id: z.string() }),
  z.strictObject({ k: z.literal('awake'), job: z.string() }),
  z.strictObject({ k: z.literal('asleep'), job: z.string() }),
]);
export type InboxLine = z.infer<typeof Line>;

/** 96 bits of a delivery's id or key: enough against chance, and short enough to keep many. */
export const fingerprint = (key: string): string =>
  createHash('sha256').update(key).digest('base64url').slice(0, 16);

export type InboxMemory = {
  readonly seen: Set<string>;
  readonly unsettled: Map<string, Waiting>;
  readonly awake: Set<string>;
};

/** @throws StoreTrouble where a newer version wrote a line. */
export function readLines(values: readonly unknown[], path: string): InboxMemory {
  const memory: InboxMemory = { seen: new Set(), unsettled: new Map(), awake: new Set() };
  for (const value of values) {
    const parsed = Line.safeParse(value);
    if (!parsed.success) throw newerFormat(path);
    take(memory, parsed.data);
  }
  return memory;
}

const newerFormat = (path: string): StoreTrouble =>
  new StoreTrouble(
    'newer-format',
    'This file holds lines that this version does not know:',
    path,
    'It was written by a newer version of the program; start that one.',
  );

function take(memory: InboxMemory, line: InboxLine): void {
  switch (line.k) {
    case 'format':
      return;
    case 'seen':
      for (const key of line.keys) memory.seen.add(key);
      return;
    case 'accepted':
      for (const key of keysOf(line.delivery)) memory.seen.add(key);
      memory.unsettled.set(line.delivery.id, { delivery: line.delivery, acceptedAt: line.at });
      return;
    case 'settled':
      memory.unsettled.delete(line.id);
      return;
    case 'awake':
      memory.awake.add(line.job);
      return;
    case 'asleep':
      memory.awake.delete(line.job);
      return;
  }
}

export const keysOf = (delivery: Delivery): readonly string[] =>
  [delivery.id, ...delivery.keys].map(fingerprint);

/** The lines that say what memory says; forgets the oldest keys beyond the number that is remembered. */
export function* snapshotOf(memory: InboxMemory): Generator<InboxLine> {
  yield { k: 'format', format: 1 };
  const keys = [...memory.seen];
  const kept = keys.slice(-REMEMBERED_KEYS);
  for (const key of keys.slice(0, keys.length - kept.length)) memory.seen.delete(key);
  for (let i = 0; i < kept.length; i += 1000) yield { k: 'seen', keys: kept.slice(i, i + 1000) };
  for (const job of memory.awake) yield { k: 'awake', job };
  for (const { delivery, acceptedAt } of memory.unsettled.values()) {
    yield { k: 'accepted', at: acceptedAt, delivery };
  }
}
