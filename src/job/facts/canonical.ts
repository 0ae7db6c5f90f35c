import type { JobEvent } from '../../../shared/event.ts';

/** An event with its time as milliseconds since 1970, so that offsets never matter for the order. */
export type TimedEvent = { readonly event: JobEvent; readonly at: number };

/**
 * The events in the one order that everything is derived in: by the time they happened, then by id. An event that
 * arrived twice counts once; should two differ under one id, the same one is kept whatever came first.
 */
export function canonical(events: readonly JobEvent[]): readonly TimedEvent[] {
  const byId = new Map<string, JobEvent>();
  for (const event of events) {
    const known = byId.get(event.id);
    if (known === undefined || (known !== event && writtenBefore(event, known))) {
      byId.set(event.id, event);
    }
  }
  return [...byId.values()]
    .map((event) => ({ event, at: Date.parse(event.at) }))
    .sort((a, b) => a.at - b.at || (a.event.id < b.event.id ? -1 : 1));
}

function writtenBefore(a: JobEvent, b: JobEvent): boolean {
  return JSON.stringify(a) < JSON.stringify(b);
}
