// The engine of the forecast on the published exercises: with enough people and the mean times it is the critical path.
import { describe, expect, it } from 'vitest';
import { finishes, layOut, layoutOf } from '../../../src/trade/forecast/lay-out.ts';
import { simulateFinish } from '../../../src/trade/forecast/simulate-finish.ts';
import { type JobAhead, meanOf } from '../../../src/trade/forecast/work-ahead.ts';
import { workClock } from '../../../src/trade/forecast/work-clock.ts';
import { WEEKDAYS, workCalendar } from '../../../src/trade/work-calendar.ts';
import { publishedFile } from '../published-file.ts';
import { EIGHT, FOURTEEN, type Row } from '../published-networks.ts';
import { valueIn } from '../unwrap.ts';

const START = Date.parse('2026-06-01T00:00:00Z');
const HOUR = 3_600_000;
const day = [{ name: 'day', from: '00:00', to: '24:00' }];
const clock = workClock(
  valueIn(
    workCalendar({ zone: 'UTC', week: Object.fromEntries(WEEKDAYS.map((each) => [each, day])) }),
  ),
  START,
);

/** Their unit is taken as an hour. */
const jobOf = (rows: readonly Row[], hands: number): JobAhead => ({
  job: 'exercise',
  people: Array.from({ length: hands }, (_, n) => `hands ${n}`),
  steps: rows.map(([id, o, m, p, after]) => ({
    id,
    kind: id,
    time: { o: 60 * o, m: 60 * m, p: 60 * p },
    handsOff: 0,
    after: [...after],
    waits: [],
    spent: 0,
  })),
});
const clocksOf = (job: JobAhead) => new Map(job.people.map((name) => [name, clock]));

/** Hours after which each step is begun and done with the mean times, and the whole. */
const laid = (rows: readonly Row[], hands: number) => {
  const job = jobOf(rows, hands);
  const layout = layoutOf([job], clocksOf(job), START);
  const made = layOut(
    layout,
    START,
    job.steps.map(({ time }) => meanOf(time)),
  );
  const hours = (at: number | undefined): number =>
    Number((((at ?? Number.NaN) - START) / HOUR).toFixed(4));
  return {
    begun: [...made.begun].map(hours),
    done: [...made.done].map(hours),
    whole: hours(finishes(layout, made)[0]?.at),
  };
};

describe('work laid out with enough hands', () => {
  it('begins and ends each activity of the textbook case as early as it can', () => {
    const { begun, done, whole } = laid(EIGHT, 8);
    expect(begun).toEqual([0, 0, 2, 3, 4, 4, 8, 13]);
    expect(done).toEqual([2, 3, 4, 7, 8, 7, 13, 15]);
    expect(whole).toBe(15);
  });

  it('takes 50.8333 for the exercise', () => {
    const { begun, whole } = laid(FOURTEEN, 14);
    expect(whole).toBe(50.8333);
    expect(begun).toEqual([
      0, 0, 5.3333, 5.3333, 10.3333, 13.5, 13.5, 20, 24.3333, 31, 31, 35.1667, 40.8333, 43,
    ]);
  });

  it('takes the sum with one pair of hands: 2 + 3 + 2 + 4 + 4 + 3 + 5 + 2', () => {
    expect(laid(EIGHT, 1).whole).toBe(25);
  });
});

describe('the textbook case drawn', () => {
  /** Nothing believed of the pace: the steps alone. */
  const pace = { middle: 0, slower: 0, faster: 0, freedom: 10, jobs: 0 };
  const job = jobOf(EIGHT, 8);
  const [finish] = simulateFinish(
    [{ ...job, pace, due: START + 16 * HOUR }],
    clocksOf(job),
    START,
    { seed: 1042, runs: 8000 },
  );
  const hours = (at: number | undefined): number => ((at ?? Number.NaN) - START) / HOUR;

  // The reference: a million draws of the same network with Python's random.betavariate: 68.94 % within 16, median
  // 15.10, nine tenths by 17.54. The normal curve along the longest chain gives 71.46 % and is hopeful, since B and D
  // are nearly as long as A, C and E.
  it('is ready within 16 as often as drawn by another program', () => {
    expect(1 - (finish?.late ?? 0)).toBeGreaterThan(0.6894 - 0.016);
    expect(1 - (finish?.late ?? 0)).toBeLessThan(0.6894 + 0.016);
  });

  it('has its median and its ninth tenth', () => {
    expect(Math.abs(hours(finish?.likely) - 15.1)).toBeLessThan(0.1);
    expect(Math.abs(hours(finish?.cautious) - 17.54)).toBeLessThan(0.15);
  });

  it('is driven by the critical path: G and H always, A, C and E more often than B and D, F seldom', () => {
    const often = (kind: string): number =>
      finish?.drivers.find((driver) => driver.kind === kind)?.often ?? 0;
    expect(often('H')).toBe(1);
    expect(often('G')).toBeGreaterThan(0.95);
    expect(often('E')).toBeGreaterThan(often('D'));
    expect(often('A')).toBeGreaterThan(often('B'));
    expect(often('F')).toBeLessThan(0.05);
  });
});

type Case = {
  activities: Record<string, { o: number; m: number; p: number; pred: string[] }>;
  result: { ES: Record<string, number>; EF: Record<string, number>; T: number };
};
const file = publishedFile('planning.json') as Record<string, Case> | undefined;

it.skipIf(!file)(
  'lays out planning.json as published (left out where that file is not beside the checkout)',
  () => {
    expect(Object.keys(file ?? {}).length).toBeGreaterThan(0);
    for (const { activities, result } of Object.values(file ?? {})) {
      const rows = Object.entries(activities).map(
        ([id, { o, m, p, pred }]): Row => [id, o, m, p, pred.join('')],
      );
      const { begun, done, whole } = laid(rows, rows.length);
      expect(whole).toBeCloseTo(result.T, 3);
      for (const [index, [id]] of rows.entries()) {
        expect(begun[index], `${id} begins`).toBeCloseTo(result.ES[id] ?? Number.NaN, 3);
        expect(done[index], `${id} ends`).toBeCloseTo(result.EF[id] ?? Number.NaN, 3);
      }
    }
  },
);
