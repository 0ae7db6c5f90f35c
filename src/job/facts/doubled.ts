import type { MessageRecord } from './message-log.ts';

/** The same words from the same person in the same place within this time are one report sent twice. */
const ONE_REPORT = 10_000;

/**
 * Messages that repeat one sent at most ten seconds before. Where a text was removed, what it was read as stands for
 * it, so that removing texts changes nothing else.
 */
export function doubledMessages(log: readonly MessageRecord[]): ReadonlySet<string> {
  const last = new Map<string, MessageRecord>();
  const doubled = new Set<string>();
  for (const record of log) {
    const from = JSON.stringify([record.by, record.channel, wordsOf(record)]);
    const earlier = last.get(from);
    if (earlier !== undefined && record.posted - earlier.posted <= ONE_REPORT) {
      doubled.add(record.message);
    } else {
      last.set(from, record);
    }
  }
  return doubled;
}

function wordsOf(record: MessageRecord): unknown {
  if (record.text !== null) return record.text.trim().replace(/\s+/gu, ' ').toLowerCase();
  return record.readings[0]?.acts ?? record.message;
}
