// What the store in a database gives and takes when it is carried over.
import { Delivery } from '../../../shared/delivery.ts';
import type { Carry } from '../carry.ts';
import { keysOf } from '../inbox-lines.ts';
import type { JobData } from '../job-form.ts';
import { laneOf } from '../job-store.ts';
import type { Database } from './database.ts';
import { readJob, writeJob } from './job-rows.ts';
import { keyOf, textOf } from './key-text.ts';

export const databaseCarry = (opened: () => Database, workshop: string, where: string): Carry => ({
  where,
  jobs: async () =>
    (
      await opened().ask('select job from chargehand.job where workshop = $1 order by ord', [
        workshop,
      ])
    ).map(({ job }) => textOf(String(job))),
  job: async (job): Promise<JobData | undefined> => {
    const row = await readJob(opened().ask, workshop, job);
    if (row === undefined) return undefined;
    const settled = await opened().ask(
      'select mark from chargehand.job_settled where workshop = $1 and job = $2',
      [workshop, keyOf(job)],
    );
    return { ...row.data, settled: settled.map(({ mark }) => String(mark)) };
  },
  takeJob: (data) =>
    opened().together(async (ask) => {
      const [row] = await ask(
        `select count(*) as n, coalesce(max(ord), 0) as last from chargehand.post where workshop = $1`,
        [workshop],
      );
      // Posts keep their order among themselves and stand behind what is there.
      const after = Number(row?.last ?? 0);
      await writeJob(ask, workshop, undefined, {
        ...data,
        outbox: data.outbox.map((each) => ({ ...each, order: after + each.order })),
      });
      for (const mark of data.settled)
        await ask('insert into chargehand.job_settled values ($1, $2, $3) on conflict do nothing', [
          workshop,
          keyOf(data.job),
          mark,
        ]);
      const last = Math.max(after, ...data.outbox.map(({ order }) => after + order));
      await ask(
        `select setval('chargehand.post_order', greatest($1::bigint, nextval('chargehand.post_order')))`,
        [last + 1],
      );
    }),
  marks: async () =>
    (
      await opened().ask('select name, value from chargehand.note where workshop = $1', [workshop])
    ).map(({ name, value }) => [textOf(String(name)), textOf(String(value))] as const),
  takeMark: async (name, value) => {
    await opened().ask(
      `insert into chargehand.note values ($1, $2, $3)
       on conflict (workshop, name) do update set value = excluded.value`,
      [workshop, keyOf(name), keyOf(value)],
    );
  },
  waiting: async () =>
    (
      await opened().ask(
        'select body, accepted_at from chargehand.delivery where workshop = $1 order by ord',
        [workshop],
      )
    ).map(({ body, accepted_at }) => ({
      delivery: Delivery.parse(JSON.parse(String(body))),
      acceptedAt: String(accepted_at),
    })),
  takeWaiting: async ({ delivery, acceptedAt }) => {
    await opened().together(async (ask) => {
      await ask(
        `insert into chargehand.delivery (workshop, id, ord, body, accepted_at, lane)
         values ($1, $2, nextval('chargehand.delivery_order'), $3, $4, $5)`,
        [
          workshop,
          keyOf(delivery.id),
          JSON.stringify(delivery),
          acceptedAt,
          keyOf(laneOf(delivery)),
        ],
      );
      await ask(
        `insert into chargehand.delivery_key (workshop, mark, at)
         select $1, m, $2::timestamptz from unnest($3::text[]) as m on conflict do nothing`,
        [workshop, acceptedAt, keysOf(delivery)],
      );
    });
  },
  seen: async () =>
    (
      await opened().ask('select mark from chargehand.delivery_key where workshop = $1', [workshop])
    ).map(({ mark }) => String(mark)),
  takeSeen: async (fingerprints) => {
    await opened().ask(
      `insert into chargehand.delivery_key (workshop, mark, at)
       select $1, m, clock_timestamp() from unnest($2::text[]) as m on conflict do nothing`,
      [workshop, [...fingerprints]],
    );
  },
  files: async function* (job) {
    const names = await opened().ask(
      'select name from chargehand.kept_file where workshop = $1 and job = $2 order by name',
      [workshop, keyOf(job)],
    );
    for (const { name } of names) {
      const [row] = await opened().ask(
        'select bytes from chargehand.kept_file where workshop = $1 and job = $2 and name = $3',
        [workshop, keyOf(job), name],
      );
      if (row) yield { job, name: String(name), bytes: row.bytes as Uint8Array };
    }
  },
  takeFile: async ({ job, name, bytes }) => {
    await opened().ask(
      'insert into chargehand.kept_file values ($1, $2, $3, $4) on conflict do nothing',
      [workshop, keyOf(job), name, Buffer.from(bytes)],
    );
  },
});
