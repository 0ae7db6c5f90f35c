import type { TimedEvent } from '../facts/canonical.ts';
import type { Fact } from '../facts/fact.ts';
import type { MessageRecord } from '../facts/message-log.ts';

/**
 * Messages that have a photo. One posted without words belongs to what the same person reported last before it, since
 * a phone often sends the picture after the text.
 */
export function photographed(
  events: readonly TimedEvent[],
  log: readonly MessageRecord[],
  posting: readonly Fact[],
): ReadonlySet<string> {
  const kept = new Set<string>();
  for (const { event } of events) if (event.kind === 'photo-kept') kept.add(event.message);
  if (kept.size === 0) return kept;
  const reports = new Set(posting.map(({ report }) => report.message));
  const last = new Map<string, string>();
  const shown = new Set<string>();
  for (const record of log) {
    if (reports.has(record.message)) last.set(record.by, record.message);
    if (!kept.has(record.message)) continue;
    const message = last.get(record.by);
    if (message !== undefined) shown.add(message);
  }
  return shown;
}
