// The day on the store that one or several processes share. Of a killed one the connections are gone, and with them what it
// had not committed; its leases run out, which they do here at once, for the day's clock stands while the database's goes on.
import { openDatabase } from '../../../../src/store/postgres/database.ts';
import { postgresStore } from '../../../../src/store/postgres/postgres-store.ts';
import type { DayStore } from './day-store.ts';

const never = <T>(): Promise<T> => new Promise(() => undefined);

let days = 0;

/** @param url a database; each day is a workshop of its own in it */
export const killableDatabase = (url: string): DayStore => {
  days += 1;
  const workshop = `day ${process.pid} ${days}`;
  const lasting = new Set<string>();
  const ends: (() => Promise<void>)[] = [];
  let busy = 0;
  return {
    name: 'a database',
    next: (clock) => {
      let dead = false;
      let holder: unknown;
      const through = async <T>(work: () => Promise<T>): Promise<T> => {
        if (dead) return never();
        busy += 1;
        const done = await work().then(
          (value) => ({ value }),
          (error: unknown) => ({ error }),
        );
        busy -= 1;
        if (dead) return never();
        if ('error' in done) throw done.error;
        return done.value;
      };
      let close: () => Promise<void> = async () => undefined;
      const store = postgresStore({
        url,
        workshop,
        clock,
        connect: (address, onLost) => {
          const real = openDatabase(address, onLost);
          let closed: Promise<void> | undefined;
          close = () => {
            closed ??= real.close();
            return closed;
          };
          ends.push(() => close());
          return {
            ask: (sql, values) => {
              if (sql.includes('insert into chargehand.lease')) holder = values?.[2];
              return through(() => real.ask(sql, values));
            },
            // What was with the database already is carried out, whole or not at all.
            together: (work) => through(() => real.together(work)),
            close: async () => undefined,
          };
        },
      });
      return {
        store: {
          ...store,
          accept: async (delivery, acceptedAt) => {
            const answer = await store.accept(delivery, acceptedAt);
            lasting.add(delivery.id);
            return answer;
          },
        },
        kill: async () => {
          dead = true;
          while (busy > 0) await new Promise((resolve) => setImmediate(resolve));
          await close();
          const database = openDatabase(url);
          await database.ask(
            `update chargehand.lease set until = clock_timestamp() - interval '1 second'
             where workshop = $1 and holder = $2`,
            [workshop, holder],
          );
          await database.close();
        },
      };
    },
    busy: () => busy,
    isLasting: (delivery) => lasting.has(delivery),
    end: async () => {
      for (const end of ends) await end();
    },
  };
};
