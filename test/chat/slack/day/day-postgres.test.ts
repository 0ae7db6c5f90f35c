// The day of day.test.ts on the store that several processes share.
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  type Cluster,
  hasPostgres,
  startCluster,
  WITHOUT_POSTGRES,
} from '../../../store/postgres/cluster.ts';
import { killableDatabase } from './day-postgres.ts';
import { daySlack } from './day-slack.ts';
import { makeDay, SHORT_DAY, SHORTEST_DAY } from './make-day.ts';
import { comparable, faultsOf } from './outcome.ts';
import { DAY_PLANS } from './plans.ts';
import { CALM, type Played, playDay, STORM } from './run-day.ts';

const WHOLE = process.env.CHARGEHAND_WHOLE === '1';
const SEED = Number(process.env.CHARGEHAND_DAY_SEED ?? 1);

describe.skipIf(!hasPostgres)(`a day over HTTP, in a database ${WITHOUT_POSTGRES}`, () => {
  const day = makeDay(SEED, WHOLE ? SHORT_DAY : SHORTEST_DAY, DAY_PLANS);
  let cluster: Cluster;
  let calm: Played;
  let storm: Played;

  beforeAll(async () => {
    cluster = await startCluster();
    const url = await cluster.database('day');
    const run = {
      day,
      plans: DAY_PLANS,
      platform: daySlack('http'),
      store: async () => killableDatabase(url),
    };
    calm = await playDay({ ...run, weather: CALM });
    storm = await playDay({ ...run, weather: { ...STORM, seed: SEED } });
  }, 3_600_000);
  afterAll(() => cluster?.stop(), 60_000);

  it('is without fault when all is calm', () => {
    expect(faultsOf(calm, day)).toEqual([]);
  });

  it('loses nothing, says nothing twice, signs what it records, keeps every thread in order', () => {
    expect(storm.thrown.restarts).toBe(3);
    expect(faultsOf(storm, day)).toEqual([]);
  });

  it('leaves the same records, states and flags as the calm one', () => {
    const { expected, found } = comparable(calm, storm, day, DAY_PLANS);
    expect(found).toEqual(expected);
  });
});
