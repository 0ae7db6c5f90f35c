// Leases: what only one of several processes does at a time. Time is the database's own, so clocks need not agree.
import type { SharedStore } from '../job-store.ts';
import type { Database } from './database.ts';

/** @param holder names this process, and no other one, ever */
export const leasesOf = (
  database: Database,
  workshop: string,
  holder: string,
): Pick<SharedStore, 'lease' | 'release'> => ({
  lease: async (name, seconds) => {
    const rows = await database.ask(
      `insert into chargehand.lease (workshop, name, holder, until)
       values ($1, $2, $3, clock_timestamp() + $4 * interval '1 second')
       on conflict (workshop, name) do update set holder = excluded.holder, until = excluded.until
       where chargehand.lease.holder = excluded.holder or chargehand.lease.until < clock_timestamp()
       returning holder`,
      [workshop, name, holder, seconds],
    );
    return rows.length > 0;
  },
  release: async (name) => {
    await database.ask(
      'delete from chargehand.lease where workshop = $1 and name = $2 and holder = $3',
      [workshop, name, holder],
    );
  },
});
