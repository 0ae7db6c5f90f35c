// The store of several machines in a database of its own, for the tests that every store runs.

import {
  type Database,
  databaseTrouble,
  openDatabase,
} from '../../../src/store/postgres/database.ts';
import { type PostgresStore, postgresStore } from '../../../src/store/postgres/postgres-store.ts';
import type { StoreTrouble } from '../../../src/store/store-trouble.ts';
import type { AnomalyHarness } from '../anomalies.ts';
import { saltsFrom } from '../file-harness.ts';
import { at } from '../sample.ts';

/** Errors as the driver gives them. Source of the codes: PostgreSQL, appendix A; of the last: Node, errno. */
const FAULTS: Readonly<Record<string, string>> = {
  'a full disk of the database': '53100',
  'a database that takes no changes': '25006',
  'a database that shuts down': '57P01',
  'a database out of reach': 'ECONNREFUSED',
};
export const DATABASE_FAULTS: readonly string[] = Object.keys(FAULTS);

const DAMAGES: Readonly<Record<string, string>> = {
  'torn in its header': `update chargehand.job set summary = left(summary, 20) where job = $1 and workshop = $2`,
  'torn in an event': `update chargehand.job_event set body = left(body, 40) where job = $1 and workshop = $2`,
  'without an event': `delete from chargehand.job_event where job = $1 and workshop = $2`,
  "another program's": `update chargehand.job_event set body = '{"hello":"world"}' where job = $1 and workshop = $2`,
};
export const DATABASE_DAMAGES: readonly string[] = Object.keys(DAMAGES);

/** Reading alone goes on while the database takes no changes; so do the tests. */
const changes = (sql: string): boolean => /^\s*(?:insert|update|delete|with)\b/iu.test(sql);

type Ground = {
  code: string | undefined;
  killIn: number;
  dead: boolean;
};

const broken = (code: string): Error => Object.assign(new Error(`fault ${code}`), { code });

/** A database that fails as it is told to: with each change, or from the n-th change on for good. */
const faulty =
  (ground: Ground): typeof openDatabase =>
  (url, onLost) => {
    const real = openDatabase(url, onLost);
    const guard = (sql: string): void => {
      if (ground.dead) throw broken('ECONNRESET');
      if (!changes(sql)) return;
      if (ground.code !== undefined) throw broken(ground.code);
      ground.killIn -= 1;
      if (ground.killIn >= 0) return;
      ground.dead = true;
      throw broken('ECONNRESET');
    };
    const database: Database = {
      ask: async (sql, values) => {
        try {
          guard(sql);
        } catch (error) {
          throw databaseTrouble(error, 'the database');
        }
        return real.ask(sql, values);
      },
      together: async (work) => {
        const result = await real.together((ask) =>
          work(async (sql, values) => {
            guard(sql);
            return ask(sql, values);
          }),
        );
        // The answer to the commit is lost, not the commit.
        guard('update');
        return result;
      },
      close: () => real.close(),
    };
    return database;
  };

let count = 0;

export type PostgresHarness = Omit<AnomalyHarness, 'store' | 'restart' | 'crash' | 'second'> & {
  readonly store: PostgresStore;
  readonly second: () => PostgresStore;
  readonly restart: () => Promise<PostgresStore>;
  readonly crash: () => Promise<PostgresStore>;
};

/** @param url a database; each harness is a workshop of its own in it */
export const postgresHarness = async (url: string): Promise<PostgresHarness> => {
  count += 1;
  const workshop = `workshop-${process.pid}-${count}`;
  const troubles: StoreTrouble[] = [];
  let ground: Ground = { code: undefined, killIn: Number.POSITIVE_INFINITY, dead: false };
  let salts = 0;
  const open: PostgresStore[] = [];
  const make = (on: Ground): PostgresStore => {
    salts += 1_000_000;
    const store = postgresStore({
      url,
      workshop,
      clock: () => at(0),
      salt: saltsFrom(salts),
      onTrouble: (trouble) => troubles.push(trouble),
      connect: faulty(on),
    });
    open.push(store);
    return store;
  };
  const first = make(ground);
  let store = first;
  await store.open();
  return {
    store: first,
    troubles,
    restart: async () => {
      await store.close();
      store = make(ground);
      await store.open();
      return store;
    },
    crash: async () => {
      // The connections of the dead process stay dead, so that nothing it had begun goes on.
      ground.dead = true;
      ground = { code: undefined, killIn: Number.POSITIVE_INFINITY, dead: false };
      store = make(ground);
      await store.open();
      return store;
    },
    second: () => make(ground),
    killAt: (n) => {
      ground.killIn = n - 1;
    },
    killed: () => ground.dead,
    fault: async (name) => {
      ground.code = FAULTS[name];
      return async () => {
        ground.code = undefined;
      };
    },
    damage: async (job, way) => {
      const damage = DAMAGES[way];
      if (damage === undefined) throw new Error(`no damage "${way}"`);
      const database = openDatabase(url);
      await database.ask(damage, [job, workshop]);
      await database.close();
    },
    end: async () => {
      ground.code = undefined;
      for (const each of open) await each.close().catch(() => undefined);
    },
  };
};
