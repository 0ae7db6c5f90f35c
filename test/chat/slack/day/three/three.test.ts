// The day in a workshop with three processes on one database, one of which is killed every few messages, against the same day
// with one process and in peace. The larger day runs with CHARGEHAND_WHOLE=1, also in `npm run bench -- three`.
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  type Cluster,
  hasPostgres,
  startCluster,
  WITHOUT_POSTGRES,
} from '../../../../store/postgres/cluster.ts';
import { killableDatabase } from '../day-postgres.ts';
import { makeDay, SHORT_DAY, SHORTEST_DAY } from '../make-day.ts';
import { comparable, faultsOf } from '../outcome.ts';
import { DAY_PLANS } from '../plans.ts';
import type { Played } from '../run-day.ts';
import { ONE_CALM, playThree, THREE_KILLED } from './play-three.ts';

const WHOLE = process.env.CHARGEHAND_WHOLE === '1';
const SEED = Number(process.env.CHARGEHAND_DAY_SEED ?? 1);

describe.skipIf(!hasPostgres)(`a day with three processes ${WITHOUT_POSTGRES}`, () => {
  const day = makeDay(SEED, WHOLE ? SHORT_DAY : SHORTEST_DAY, DAY_PLANS);
  let cluster: Cluster;
  let calm: Played;
  let storm: Played;

  beforeAll(async () => {
    cluster = await startCluster();
    const url = await cluster.database('three');
    calm = await playThree(day, DAY_PLANS, killableDatabase(url), ONE_CALM);
    storm = await playThree(day, DAY_PLANS, killableDatabase(url), { ...THREE_KILLED, seed: SEED });
  }, 3_600_000);
  afterAll(() => cluster?.stop(), 60_000);

  it('is without fault with one process and in peace', () => {
    expect(faultsOf(calm, day)).toEqual([]);
    expect(calm.errors).toEqual([]);
  });

  it('kills one of three again and again, and all had a part in it', () => {
    expect(storm.thrown.kills).toBeGreaterThan(5);
    expect(storm.thrown['processes that had a part in it']).toBeGreaterThan(5);
  });

  it('loses nothing, says nothing twice, signs what it records, keeps every thread in order', () => {
    expect(faultsOf(storm, day)).toEqual([]);
  });

  it('leaves the same records, states and flags as the calm one', () => {
    const { expected, found } = comparable(calm, storm, day, DAY_PLANS);
    expect(Object.keys(expected).length).toBe(day.size.jobs);
    expect(found).toEqual(expected);
  });
});
