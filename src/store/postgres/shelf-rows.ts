// The shelf that processes share, as rows. The log's order is that of its head's row: whoever adds a line holds that row until
// the line is committed, so nobody ever sees a line before an earlier one.
import type { LogLine, NewLine, SharedShelf } from '../shared-shelf.ts';
import type { Ask, Database, Row } from './database.ts';
import { keyOf, textOf } from './key-text.ts';

const NEXT = `insert into chargehand.log_head (workshop, n, epoch) values ($1, 1, 0)
  on conflict (workshop) do update set n = chargehand.log_head.n + 1 returning n`;

const ADD = `with h as (${NEXT}), added as (
    insert into chargehand.log_line (workshop, n, roll, about, once, body)
    select $1, h.n, $2::text, $3::text, $4::text, $5::text from h
    on conflict (workshop, once) do nothing returning n)
  select n from h`;

const valuesOf = (workshop: string, { roll, about, once, body }: NewLine): unknown[] => [
  workshop,
  keyOf(roll),
  keyOf(about),
  once === undefined ? null : keyOf(once),
  body,
];

const lineOf = ({ n, roll, body }: Row): LogLine => ({
  n: Number(n),
  roll: textOf(String(roll)),
  body: String(body),
});

/** Signs that mean something in a pattern stand for themselves. */
const beginning = (prefix: string): string => `${keyOf(prefix).replace(/[\\%_]/gu, '\\$&')}%`;

/** Bodies are read and written in shares of this many, so that a long log needs little memory. */
const SHARE = 1_000;

/** @param asking runs a question, and says what is wrong in the words of the store */
export const shelfOf = (
  opened: () => Database,
  workshop: string,
  asking: <T>(ask: () => Promise<T>, wrote: boolean) => Promise<T>,
): SharedShelf => {
  const read = (sql: string, values: readonly unknown[]): Promise<readonly Row[]> =>
    asking(() => opened().ask(sql, values), false);
  const write = (sql: string, values: readonly unknown[]): Promise<readonly Row[]> =>
    asking(() => opened().ask(sql, values), true);

  const linesSince = async (n: number, most: number): Promise<readonly LogLine[]> =>
    (
      await read(
        `select n, roll, body from chargehand.log_line where workshop = $1 and n > $2
         order by n limit $3`,
        [workshop, n, most],
      )
    ).map(lineOf);

  const rewriteIn = async (
    ask: Ask,
    change: (line: LogLine) => string | undefined,
  ): Promise<number> => {
    let changed = 0;
    // Whoever adds a line waits meanwhile.
    await ask(NEXT, [workshop]);
    for (let from = 0; ; ) {
      const rows = await ask(
        `select n, roll, body from chargehand.log_line where workshop = $1 and n > $2
         order by n limit $3`,
        [workshop, from, SHARE],
      );
      for (const line of rows.map(lineOf)) {
        from = line.n;
        const body = change(line);
        if (body === undefined || body === line.body) continue;
        changed += 1;
        await ask('update chargehand.log_line set body = $3 where workshop = $1 and n = $2', [
          workshop,
          line.n,
          body,
        ]);
      }
      if (rows.length < SHARE) break;
    }
    if (changed > 0)
      await ask('update chargehand.log_head set epoch = epoch + 1 where workshop = $1', [workshop]);
    return changed;
  };

  return {
    paper: async (name) => {
      const [row] = await read(
        'select body, rev from chargehand.paper where workshop = $1 and name = $2',
        [workshop, keyOf(name)],
      );
      return row && { text: String(row.body), rev: Number(row.rev) };
    },
    papers: async (prefix) =>
      (
        await read(
          'select name, body, rev from chargehand.paper where workshop = $1 and name like $2 order by name',
          [workshop, beginning(prefix)],
        )
      ).map(({ name, body, rev }) => ({
        name: textOf(String(name)),
        text: String(body),
        rev: Number(rev),
      })),
    writePaper: async (name, text, rev) => {
      const rows =
        rev === 0
          ? await write(
              `insert into chargehand.paper (workshop, name, rev, body) values ($1, $2, 1, $3)
               on conflict (workshop, name) do nothing returning rev`,
              [workshop, keyOf(name), text],
            )
          : await write(
              `update chargehand.paper set rev = rev + 1, body = $3
               where workshop = $1 and name = $2 and rev = $4 returning rev`,
              [workshop, keyOf(name), text, rev],
            );
      return rows.length > 0;
    },
    removePaper: async (name) => {
      await write('delete from chargehand.paper where workshop = $1 and name = $2', [
        workshop,
        keyOf(name),
      ]);
    },

    head: async () => {
      const [row] = await read('select n, epoch from chargehand.log_head where workshop = $1', [
        workshop,
      ]);
      return { n: Number(row?.n ?? 0), epoch: Number(row?.epoch ?? 0) };
    },
    addLine: async (line) => Number((await write(ADD, valuesOf(workshop, line)))[0]?.n ?? 0),
    linesSince,
    linesOf: async (roll, upTo) =>
      (
        await read(
          `select n, roll, body from chargehand.log_line
           where workshop = $1 and n <= $4 and (roll = $2 or (roll = '' and about = $3)) order by n`,
          [workshop, keyOf(roll), keyOf(roll), upTo],
        )
      ).map(lineOf),
    rolls: async () =>
      (
        await read('select distinct roll from chargehand.log_line where workshop = $1', [workshop])
      ).map(({ roll }) => textOf(String(roll))),
    rewriteLines: (change) =>
      asking(() => opened().together((ask) => rewriteIn(ask, change)), true),

    hold: async (id, body) => {
      await write(
        `insert into chargehand.held (workshop, id, body, at) values ($1, $2, $3, clock_timestamp())
         on conflict (workshop, id) do update set at = excluded.at`,
        [workshop, keyOf(id), body],
      );
    },
    letGo: async (id, line) => {
      if (line === undefined)
        await write('delete from chargehand.held where workshop = $1 and id = $2', [
          workshop,
          keyOf(id),
        ]);
      else
        await write(
          `with gone as (delete from chargehand.held where workshop = $1 and id = $6), ${ADD.slice('with '.length)}`,
          [...valuesOf(workshop, line), keyOf(id)],
        );
    },
    leftBehind: async (seconds) =>
      (
        await read(
          `select body from chargehand.held
           where workshop = $1 and at < clock_timestamp() - $2 * interval '1 second' order by at`,
          [workshop, seconds],
        )
      ).map(({ body }) => String(body)),
    rewriteHeld: (change) =>
      asking(
        () =>
          opened().together(async (ask) => {
            let changed = 0;
            for (const { id, body } of await ask(
              'select id, body from chargehand.held where workshop = $1 for update',
              [workshop],
            )) {
              const next = change(String(body));
              if (next === undefined || next === body) continue;
              changed += 1;
              await ask('update chargehand.held set body = $3 where workshop = $1 and id = $2', [
                workshop,
                id,
                next,
              ]);
            }
            return changed;
          }),
        true,
      ),

    keepBytes: async (name, bytes) => {
      await write(
        `insert into chargehand.bytes (workshop, name, size, at, body)
         values ($1, $2, $3, clock_timestamp(), $4) on conflict (workshop, name) do nothing`,
        [workshop, keyOf(name), bytes.length, Buffer.from(bytes)],
      );
    },
    sizeOf: async (name) => {
      const [row] = await read(
        'select size from chargehand.bytes where workshop = $1 and name = $2',
        [workshop, keyOf(name)],
      );
      return row === undefined ? undefined : Number(row.size);
    },
    namesOfBytes: async (prefix) =>
      (
        await read(
          'select name from chargehand.bytes where workshop = $1 and name like $2 order by name',
          [workshop, beginning(prefix)],
        )
      ).map(({ name }) => textOf(String(name))),
    readBytes: async (name) => {
      const [row] = await read(
        'select body from chargehand.bytes where workshop = $1 and name = $2',
        [workshop, keyOf(name)],
      );
      return row?.body as Buffer | undefined;
    },
    clearBytes: async (prefix, days) => {
      await write(
        `delete from chargehand.bytes where workshop = $1 and name like $2
         and at < clock_timestamp() - $3 * interval '1 day'`,
        [workshop, beginning(prefix), days],
      );
    },
  };
};
