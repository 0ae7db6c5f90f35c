// Deliveries, events and posts of an invented depot, for the tests of every store.
import type { Delivery } from '../../shared/delivery.ts';
import type { JobEvent } from '../../shared/event.ts';
import type { Post } from '../../src/desk/card.ts';
import type { Append, IndexEntry, OutboxEntry, ThreadRef } from '../../src/store/job-store.ts';

/** A morning at Harrow Lane depot, and so many seconds later. */
export function at(seconds: number): string {
  return new Date(Date.UTC(2031, 4, 6, 6, 30) + seconds * 1000).toISOString();
}

export function delivery(n: number | string, text = `drained ${n} L`): Delivery {
  const seconds = typeof n === 'number' ? n : 0;
  return {
    id: `bench:${n}`,
    keys: [`bench/yard/${n}`],
    channel: 'bench',
    team: 'bench',
    place: 'yard',
    person: 'p-jo',
    at: at(seconds),
    kind: 'message',
    message: `m${n}`,
    text,
  };
}

export function thread(job: string, channel: Delivery['channel'] = 'bench'): ThreadRef {
  return { channel, team: 'bench', place: 'yard', thread: `thread-${job}` };
}

export function indexOf(job: string, over: Partial<IndexEntry> = {}): IndexEntry {
  return {
    job,
    vehicle: 'Bus 7',
    plan: 'coolant-pump',
    status: 'open',
    technician: 'Jo',
    openedAt: at(0),
    threads: [],
    ...over,
  };
}

export function jobOpened(job: string): JobEvent {
  return {
    id: `${job}-opened`,
    at: at(0),
    by: 'Sam',
    kind: 'job-opened',
    job,
    vehicle: { name: 'Bus 7' },
    complaint: 'loses coolant overnight, says Jo',
    plan: { id: 'coolant-pump', title: 'Renew a coolant pump', hash: 'h', text: 'title: pump\n' },
    positions: [],
    options: [],
    technician: 'Jo',
    controller: 'Sam',
  };
}

export function posted(n: number | string, text = `drained ${n} L`, by = 'Jo'): JobEvent {
  const seconds = typeof n === 'number' ? n : 0;
  return {
    id: `bench:${n}-posted`,
    at: at(seconds),
    by,
    kind: 'message-posted',
    message: `m${n}`,
    channel: 'bench',
    text,
  };
}

export function outboxEntry(
  job: string,
  key: string,
  over: { readonly urgent?: boolean; readonly edit?: boolean; readonly text?: string } = {},
): OutboxEntry {
  const post: Post = {
    key,
    to: { where: 'thread' },
    card: { text: over.text ?? `card ${key}`, blocks: [] },
    edit: over.edit ?? false,
    urgent: over.urgent ?? false,
  };
  return {
    id: `${job}/${key}/bench`,
    job,
    channel: 'bench',
    post,
    madeAt: at(1),
    tries: 0,
    state: 'waiting',
  };
}

export function openJob(job: string, over: Partial<Append> = {}): Append {
  return { job, expected: 0, events: [jobOpened(job)], index: indexOf(job), ...over };
}

/** The texts of a stored job's messages, in the order they were recorded. */
export function textsOf(job: {
  readonly events: readonly { readonly event: JobEvent }[];
}): readonly (string | null)[] {
  return job.events.flatMap(({ event }) => (event.kind === 'message-posted' ? [event.text] : []));
}
