// What an append, a settled post or a removal makes of a job: the next state of its file, decided before any disk.
import { JobEvent, type StoredEvent } from '../../shared/event.ts';
import { canonical, type People, peopleOf, sealEvent } from './chain.ts';
import { fingerprint } from './inbox-lines.ts';
import { IndexEntryForm, type JobData, OutboxEntryForm, type Queued } from './job-form.ts';
import type { Append, OutboxEntry, PostRef, StoredJob, ThreadRef } from './job-store.ts';
import { StoreTrouble } from './store-trouble.ts';

/** The job as callers see it; its version is the number of its events. */
export const shownJob = (data: JobData): StoredJob => ({
  job: data.job,
  version: data.events.length,
  events: data.events,
  threads: data.threads,
  posts: data.posts,
  outbox: data.outbox.map((q) => q.entry),
});

/** Numbers for the order of posts over all jobs, each used once. */
export type Counter = () => number;

/** The inbox forgets a settled delivery at once; the job remembers it for a crash in between, and far longer. */
const REMEMBERED_SETTLED = 1_000;

const PEOPLE = new WeakMap<readonly StoredEvent[], People>();

function notFitting(what: string, job: string): StoreTrouble {
  return new StoreTrouble(
    'not-fitting',
    what,
    `job ${job}`,
    'Nothing was recorded; the part of the program that made it has to be mended.',
  );
}

function checkedEvents(append: Append, old: JobData | undefined): readonly JobEvent[] {
  const there = new Map(old?.events.map(({ event }) => [event.id, event]));
  const fresh: JobEvent[] = [];
  for (const given of append.events) {
    const parsed = JobEvent.safeParse(given);
    if (!parsed.success) {
      const issue = parsed.error.issues[0];
      throw notFitting(
        `An event of kind "${given.kind}" does not have the form it is kept in (${issue?.path.join('.')}: ${issue?.message}):`,
        append.job,
      );
    }
    const event = parsed.data;
    const before = there.get(event.id);
    if (before === undefined) {
      there.set(event.id, event);
      fresh.push(event);
    } else if (canonical(before) !== canonical(event)) {
      throw notFitting(`Two different events have the id "${event.id}":`, append.job);
    }
  }
  return fresh;
}

const sameThread = (a: ThreadRef, b: ThreadRef): boolean =>
  a.channel === b.channel && a.team === b.team && a.place === b.place && a.thread === b.thread;

function joined(...lists: readonly (readonly ThreadRef[] | undefined)[]): readonly ThreadRef[] {
  const all: ThreadRef[] = [];
  for (const ref of lists.flatMap((list) => list ?? [])) {
    if (!all.some((other) => sameThread(other, ref))) all.push(ref);
  }
  return all;
}

/** A post with the key of a waiting one takes its place where it edits; where it does not, the first one stands. */
function queuedWith(
  queue: readonly Queued[],
  posts: readonly PostRef[],
  entry: OutboxEntry,
  next: Counter,
): readonly Queued[] {
  const at = queue.findIndex((q) => q.entry.id === entry.id);
  const waiting = queue[at];
  if (waiting !== undefined) {
    if (!entry.post.edit) return queue;
    const { tries, state } = waiting.entry;
    return queue.with(at, { ...waiting, entry: { ...entry, tries, state } });
  }
  const posted = posts.some((p) => p.key === entry.post.key && p.channel === entry.channel);
  if (posted && !entry.post.edit) return queue;
  return [...queue, { order: next(), entry }];
}

/**
 * The job as it is after an append.
 * @throws StoreTrouble of kind `not-fitting` where a part does not have the form it is kept in.
 */
export function appended(
  append: Append,
  old: JobData | undefined,
  salt: () => string,
  next: Counter,
): JobData {
  const fresh = checkedEvents(append, old);
  const index = IndexEntryForm.safeParse(append.index);
  if (!index.success || append.index.job !== append.job) {
    throw notFitting('The index entry does not fit the job:', append.job);
  }
  const before = old?.events ?? [];
  const known = PEOPLE.get(before) ?? peopleOf(before);
  const people: People = { numbers: new Map(known.numbers), last: known.last };
  const events = [...before];
  for (const event of fresh) events.push(sealEvent(events.at(-1)?.hash, event, salt(), people));
  PEOPLE.set(events, people);

  const posts = old?.posts ?? [];
  let outbox = old?.outbox ?? [];
  for (const entry of append.outbox ?? []) {
    if (!OutboxEntryForm.safeParse(entry).success || entry.job !== append.job) {
      throw notFitting(`The post "${entry.id}" does not have the form it is kept in:`, append.job);
    }
    outbox = queuedWith(outbox, posts, JSON.parse(JSON.stringify(entry)) as OutboxEntry, next);
  }
  const threads = joined(old?.threads, append.threads, append.index.threads);
  const settled = old?.settled ?? [];
  return {
    job: append.job,
    index: { ...index.data, threads },
    threads,
    posts,
    settled:
      append.settles === undefined
        ? settled
        : [...settled, fingerprint(append.settles)].slice(-REMEMBERED_SETTLED),
    outbox,
    events,
  };
}

/** The job once a post is out, or given up; a newer card under the same key stays in the queue. */
export function withPostSettled(
  old: JobData,
  id: string,
  ref: PostRef | undefined,
  posted: OutboxEntry | undefined,
): JobData {
  const outbox = old.outbox.flatMap((q): readonly Queued[] => {
    if (q.entry.id !== id) return [q];
    if (posted === undefined || canonical(posted.post) === canonical(q.entry.post)) return [];
    return [{ ...q, entry: { ...q.entry, tries: 0, state: 'waiting' } }];
  });
  const others = old.posts.filter(
    (p) =>
      ref === undefined ||
      p.key !== ref.key ||
      p.channel !== ref.channel ||
      p.team !== ref.team ||
      p.place !== ref.place,
  );
  return { ...old, outbox, posts: ref === undefined ? others : [...others, { ...ref }] };
}

/** The job with another count of tries or state for a waiting post. */
export function withPostKept(
  old: JobData,
  id: string,
  change: { readonly tries: number; readonly state: 'waiting' | 'unclear' },
): JobData {
  return {
    ...old,
    outbox: old.outbox.map((q) =>
      q.entry.id === id
        ? { ...q, entry: { ...q.entry, tries: change.tries, state: change.state } }
        : q,
    ),
  };
}
