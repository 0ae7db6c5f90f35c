// A day in a workshop with all that goes wrong in real life, against the same day in which nothing does. The whole day, of
// 3,000 messages, runs with CHARGEHAND_WHOLE=1.
import { beforeAll, describe, expect, it } from 'vitest';
import { daySlack } from './day-slack.ts';
import { diskStore, type MakeDayStore, powerCutStore } from './day-store.ts';
import { type DaySize, makeDay, SHORT_DAY, SHORTEST_DAY, WHOLE_DAY } from './make-day.ts';
import { comparable, differingJobs, faultsOf } from './outcome.ts';
import { DAY_PLANS } from './plans.ts';
import { CALM, type Played, playDay, STORM } from './run-day.ts';

const WHOLE = process.env.CHARGEHAND_WHOLE === '1';
const SEED = Number(process.env.CHARGEHAND_DAY_SEED ?? 1);

const days: readonly (readonly [string, DaySize, ReturnType<typeof daySlack>, MakeDayStore])[] = [
  [
    'over HTTP, on a disk whose power goes',
    WHOLE ? WHOLE_DAY : SHORT_DAY,
    daySlack('http'),
    powerCutStore,
  ],
  [
    WHOLE ? 'over the socket, in a folder' : 'over the socket, on a disk whose power goes',
    WHOLE ? SHORT_DAY : SHORTEST_DAY,
    daySlack('socket'),
    WHOLE ? diskStore : powerCutStore,
  ],
];

describe.each(days)('a day %s', (_name, size, platform, store) => {
  const day = makeDay(SEED, size, DAY_PLANS);
  const run = { day, plans: DAY_PLANS, platform, store };
  let calm: Played;
  let storm: Played;
  // Two in a hundred of few messages may be none.
  const more = size === SHORTEST_DAY ? { doubled: 0.1, swapped: 0.1, spoilt: 0.2 } : {};

  beforeAll(async () => {
    calm = await playDay({ ...run, weather: CALM });
    storm = await playDay({ ...run, weather: { ...STORM, ...more, seed: SEED } });
  }, 3_600_000);

  it('is without fault when all is calm', () => {
    expect(faultsOf(calm, day)).toEqual([]);
    expect(calm.errors).toEqual([]);
  });

  it('had everything thrown at it', () => {
    const { thrown } = storm;
    expect(thrown.restarts).toBe(3);
    expect(thrown.outages).toBe(1);
    if (size !== SHORTEST_DAY) expect(thrown['deliveries given up']).toBeGreaterThan(0);
    for (const what of ['swapped', 'deliveries not acknowledged'])
      expect(thrown[what], what).toBeGreaterThan(0);
    const doubles = (which: string): number => thrown[`doubles under ${which} id`] ?? 0;
    expect(doubles('the same') + doubles('another')).toBeGreaterThan(0);
    const spoilt = Object.keys(thrown).filter((what) =>
      /^calls: (?:500|reset|hang|429)/u.test(what),
    );
    expect(spoilt.length).toBeGreaterThan(0);
  });

  it('loses nothing, says nothing twice, signs what it records, keeps every thread in order', () => {
    expect(faultsOf(storm, day)).toEqual([]);
  });

  it('leaves the same records, states and flags as the calm one', () => {
    const { expected, found } = comparable(calm, storm, day, DAY_PLANS);
    expect(found).toEqual(expected);
    expect(differingJobs(calm, storm, day, DAY_PLANS)).toEqual([]);
    expect(Object.keys(expected).length).toBe(size.jobs);
  });
});
