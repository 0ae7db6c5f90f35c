// A job as rows: read whole in one statement, written as what has changed.
import { ZodError } from 'zod';
import { type JobData as Job, JobData, type Queued } from '../job-form.ts';
import { StoreTrouble } from '../store-trouble.ts';
import type { Ask } from './database.ts';
import { keyOf } from './key-text.ts';

export type StoredRow = {
  /** Goes up by one with each change, of whatever part. */
  readonly rev: number;
  readonly data: Job;
};

const READ = `select j.rev, j.version, j.summary, j.threads, j.posts,
  (select coalesce(array_agg(e.body order by e.n), '{}') from chargehand.job_event e
    where e.workshop = j.workshop and e.job = j.job) as events,
  (select coalesce(array_agg(p.body order by p.ord), '{}') from chargehand.post p
    where p.workshop = j.workshop and p.job = j.job) as queue,
  (select coalesce(array_agg(p.ord order by p.ord), '{}') from chargehand.post p
    where p.workshop = j.workshop and p.job = j.job) as places
  from chargehand.job j where j.workshop = $1 and j.job = $2`;

const damaged = (job: string, why: string, cause?: unknown): StoreTrouble =>
  new StoreTrouble(
    'damaged',
    `What is stored of a job cannot be read (${why}):`,
    `job ${job}`,
    'It is left as it is; the other jobs go on. Put it back from a backup of the database.',
    cause,
  );

/** @throws StoreTrouble of kind `damaged` where the rows do not make up a job */
export const readJob = async (
  ask: Ask,
  workshop: string,
  job: string,
): Promise<StoredRow | undefined> => {
  const [row] = await ask(READ, [workshop, keyOf(job)]);
  if (row === undefined) return undefined;
  try {
    const events = (row.events as string[]).map((text) => JSON.parse(text) as unknown);
    const places = row.places as string[];
    const data = JobData.parse({
      job,
      index: JSON.parse(String(row.summary)),
      threads: JSON.parse(String(row.threads)),
      posts: JSON.parse(String(row.posts)),
      settled: [],
      outbox: (row.queue as string[]).map((text, at) => ({
        order: Number(places[at]),
        entry: JSON.parse(text),
      })),
      events,
    }) as Job;
    if (data.events.length !== Number(row.version))
      throw damaged(job, `${data.events.length} of ${String(row.version)} events are there`);
    return { rev: Number(row.rev), data };
  } catch (error) {
    if (error instanceof StoreTrouble) throw error;
    const where = error instanceof ZodError ? error.issues[0]?.path.join('.') : undefined;
    throw damaged(
      job,
      where === undefined ? 'it is torn' : `it has not its form at ${where}`,
      error,
    );
  }
};

const sameQueued = (a: Queued | undefined, b: Queued): boolean =>
  a !== undefined && (a === b || JSON.stringify(a.entry) === JSON.stringify(b.entry));

const writeEvents = async (
  ask: Ask,
  workshop: string,
  old: Job | undefined,
  data: Job,
): Promise<void> => {
  const before = old?.events ?? [];
  const fresh = data.events.slice(before.length);
  if (fresh.length > 0)
    await ask(
      `insert into chargehand.job_event (workshop, job, n, body)
       select $1, $2, * from unnest($3::integer[], $4::text[])`,
      [
        workshop,
        keyOf(data.job),
        fresh.map((_, at) => before.length + at),
        fresh.map((event) => JSON.stringify(event)),
      ],
    );
  for (const [n, event] of before.entries())
    if (data.events[n] !== event)
      await ask(
        'update chargehand.job_event set body = $4 where workshop = $1 and job = $2 and n = $3',
        [workshop, keyOf(data.job), n, JSON.stringify(data.events[n])],
      );
};

const writeQueue = async (
  ask: Ask,
  workshop: string,
  old: Job | undefined,
  data: Job,
): Promise<void> => {
  const before = new Map((old?.outbox ?? []).map((each) => [each.entry.id, each]));
  const now = new Set(data.outbox.map(({ entry }) => entry.id));
  const gone = [...before.keys()].filter((id) => !now.has(id));
  if (gone.length > 0)
    await ask(
      'delete from chargehand.post where workshop = $1 and job = $2 and id = any($3::text[])',
      [workshop, keyOf(data.job), gone.map(keyOf)],
    );
  const changed = data.outbox.filter((each) => !sameQueued(before.get(each.entry.id), each));
  if (changed.length === 0) return;
  await ask(
    `insert into chargehand.post (workshop, job, id, ord, urgent, body)
     select $1, $2, * from unnest($3::text[], $4::bigint[], $5::boolean[], $6::text[])
     on conflict (workshop, job, id) do update set urgent = excluded.urgent, body = excluded.body`,
    [
      workshop,
      keyOf(data.job),
      changed.map(({ entry }) => keyOf(entry.id)),
      changed.map(({ order }) => order),
      changed.map(({ entry }) => entry.post.urgent),
      changed.map(({ entry }) => JSON.stringify(entry)),
    ],
  );
};

/** Writes what differs from `old`, within a transaction that holds the job's row. */
export const writeJob = async (
  ask: Ask,
  workshop: string,
  old: StoredRow | undefined,
  data: Job,
): Promise<StoredRow> => {
  const rev = (old?.rev ?? 0) + 1;
  const header = [
    workshop,
    keyOf(data.job),
    rev,
    data.events.length,
    data.index.status,
    JSON.stringify(data.index),
    JSON.stringify(data.threads),
    JSON.stringify(data.posts),
  ];
  if (old === undefined)
    await ask(
      `insert into chargehand.job
         (workshop, job, ord, rev, version, status, summary, threads, posts, changed_at)
       values ($1, $2, nextval('chargehand.job_order'), $3, $4, $5, $6, $7, $8, clock_timestamp())`,
      header,
    );
  else
    await ask(
      `update chargehand.job set rev = $3, version = $4, status = $5, summary = $6, threads = $7,
         posts = $8, changed_at = clock_timestamp() where workshop = $1 and job = $2`,
      header,
    );
  await writeEvents(ask, workshop, old?.data, data);
  await writeQueue(ask, workshop, old?.data, data);
  const known = new Set((old?.data.threads ?? []).map((each) => JSON.stringify(each)));
  const fresh = data.threads.filter((each) => !known.has(JSON.stringify(each)));
  if (fresh.length > 0)
    await ask(
      `insert into chargehand.job_thread (workshop, channel, team, place, thread, job)
       select $1, a, b, c, d, $2 from unnest($3::text[], $4::text[], $5::text[], $6::text[]) as t(a, b, c, d)
       on conflict (workshop, channel, team, place, thread) do update set job = excluded.job`,
      [
        workshop,
        keyOf(data.job),
        fresh.map(({ channel }) => channel),
        fresh.map(({ team }) => keyOf(team)),
        fresh.map(({ place }) => keyOf(place)),
        fresh.map(({ thread }) => keyOf(thread)),
      ],
    );
  return { rev, data };
};
