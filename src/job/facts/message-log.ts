import type { Act } from '../../../shared/reading.ts';
import type { TimedEvent } from './canonical.ts';

/** One reading of a message: the acts of one revision, from the latest pass over it. */
export type RevisionReading = {
  readonly revision: number;
  readonly pass: number;
  readonly acts: readonly Act[];
  readonly at: number;
  readonly iso: string;
};

/** A message that still stands on this job, with everything needed to say what it reports and since when. */
export type MessageRecord = {
  readonly message: string;
  readonly by: string;
  readonly role: string | undefined;
  readonly channel: string;
  readonly posted: number;
  readonly postedIso: string;
  readonly text: string | null;
  readonly edits: readonly { readonly at: number; readonly iso: string }[];
  /** Newest revision first; empty while the message is unread. */
  readonly readings: readonly RevisionReading[];
};

type Draft = {
  message: string;
  by: string;
  role: string | undefined;
  channel: string;
  posted: number;
  postedIso: string;
  text: string | null;
  edits: { at: number; iso: string }[];
  readings: Map<number, RevisionReading>;
};

/**
 * The messages of a job in posting order. A deleted message is left out wholly, and so is one that was moved to
 * another job: what rests on it is then without a record.
 */
export function messageLog(events: readonly TimedEvent[], job: string): readonly MessageRecord[] {
  const log = new Map<string, Draft>();
  const gone = new Set<string>();
  for (const { event, at } of events) {
    if (event.kind === 'message-deleted') gone.add(event.message);
    if (event.kind === 'message-moved') {
      if (event.to === job) gone.delete(event.message);
      else gone.add(event.message);
    }
    if (event.kind !== 'message-posted' || log.has(event.message)) continue;
    const typed = event.typed === undefined ? at : Date.parse(event.typed);
    log.set(event.message, {
      message: event.message,
      by: event.by,
      role: event.role,
      channel: event.channel,
      posted: Math.min(at, typed),
      postedIso: event.typed !== undefined && typed < at ? event.typed : event.at,
      text: event.text,
      edits: [],
      readings: new Map(),
    });
  }
  for (const { event, at } of events) {
    if (event.kind !== 'message-edited' && event.kind !== 'message-read') continue;
    const draft = log.get(event.message);
    if (draft === undefined) continue;
    if (event.kind === 'message-edited') {
      draft.text = event.text;
      draft.edits.push({ at, iso: event.at });
      continue;
    }
    const known = draft.readings.get(event.revision);
    if (known !== undefined && known.pass > event.pass) continue;
    const { revision, pass, acts } = event;
    draft.readings.set(revision, { revision, pass, acts, at, iso: event.at });
  }
  return [...log.values()]
    .filter((draft) => !gone.has(draft.message))
    .map((draft) => ({
      ...draft,
      readings: [...draft.readings.values()].sort((a, b) => b.revision - a.revision),
    }))
    .sort((a, b) => a.posted - b.posted || (a.message < b.message ? -1 : 1));
}
