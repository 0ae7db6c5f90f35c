// The day on the store that several processes share. A killed process's connections are gone, and with them what it had not
// committed; its leases run out by the database's clock, which a stopped clock does not move, so they are let go here.
import { openDatabase } from '../../../../src/store/postgres/database.ts';
import { postgresStore } from '../../../../src/store/postgres/postgres-store.ts';
import type { MakeDayStore } from './day-store.ts';

const never = <T>(): Promise<T> => new Promise(() => undefined);

let days = 0;

/** @param url a database of its own; each day is a workshop of its own in it */
export const postgresDayStore =
  (url: () => string): MakeDayStore =>
  async () => {
    days += 1;
    const workshop = `day ${process.pid} ${days}`;
    const lasting = new Set<string>();
    const ends: (() => Promise<void>)[] = [];
    let busy = 0;
    return {
      name: 'a database',
      next: (clock) => {
        let dead = false;
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
        const store = postgresStore({
          url: url(),
          workshop,
          clock,
          connect: (address, onLost) => {
            const real = openDatabase(address, onLost);
            ends.push(() => real.close());
            return {
              ask: (sql, values) => through(() => real.ask(sql, values)),
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
            const database = openDatabase(url());
            await database.ask('delete from chargehand.lease where workshop = $1', [workshop]);
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
