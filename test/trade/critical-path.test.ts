import { spawnSync } from 'node:child_process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Activity,
  type CriticalPath,
  criticalPath,
  type Scheduled,
} from '../../src/trade/critical-path.ts';
import { likelyWithin, timeFor } from '../../src/trade/finish-likelihood.ts';
import { publishedFile } from './published-file.ts';
import { EIGHT as EIGHT_ROWS, FOURTEEN as FOURTEEN_ROWS, type Row } from './published-networks.ts';
import { problemIn, valueIn } from './unwrap.ts';

const activities = (rows: readonly Row[]): readonly Activity[] =>
  rows.map(([id, o, m, p, after]) => ({ id, time: { o, m, p }, after: [...after] }));

const EIGHT = activities(EIGHT_ROWS);
const FOURTEEN = activities(FOURTEEN_ROWS);

const column = (whole: CriticalPath, key: keyof Scheduled) =>
  [...whole.activities.values()].map((activity) => Number(activity[key].toFixed(4)));

describe('the critical path', () => {
  it('of the textbook case', () => {
    const whole = valueIn(criticalPath(EIGHT));
    expect(whole.expected).toBeCloseTo(15, 9);
    expect(whole.path).toEqual(['A', 'C', 'E', 'G', 'H']);
    expect(whole.critical).toEqual(['A', 'C', 'E', 'G', 'H']);
    expect(whole.variance).toBeCloseTo(3.1111, 4);
    expect(column(whole, 'earlyStart')).toEqual([0, 0, 2, 3, 4, 4, 8, 13]);
    expect(column(whole, 'earlyFinish')).toEqual([2, 3, 4, 7, 8, 7, 13, 15]);
    expect(column(whole, 'lateStart')).toEqual([0, 1, 2, 4, 4, 10, 8, 13]);
    expect(column(whole, 'lateFinish')).toEqual([2, 4, 4, 8, 8, 13, 13, 15]);
    expect(column(whole, 'slack')).toEqual([0, 1, 0, 1, 0, 6, 0, 0]);
  });

  it('of the exercise', () => {
    const whole = valueIn(criticalPath(FOURTEEN));
    expect(whole.expected).toBeCloseTo(50.8333, 4);
    expect(whole.path.join('-')).toBe('A-C-E-H-I-K-M-N');
    expect(whole.variance).toBeCloseTo(11.194, 3);
    expect(column(whole, 'slack')).toEqual([
      0, 8, 0, 1.8333, 0, 1.8333, 5, 0, 0, 2.5, 0, 2.5, 0, 0,
    ]);
  });

  it('takes the widest of several chains without slack', () => {
    const whole = valueIn(
      criticalPath([
        { id: 'steady', time: 10, after: [] },
        { id: 'loose', time: { o: 4, m: 10, p: 16 }, after: [] },
        { id: 'end', time: 5, after: ['steady', 'loose'] },
      ]),
    );
    expect(whole.critical).toEqual(['steady', 'loose', 'end']);
    expect(whole.path).toEqual(['loose', 'end']);
    // ((16 - 4)/6)² = 4.
    expect(whole.variance).toBeCloseTo(4, 12);
  });

  it.each([
    [[], 'There is nothing to schedule.'],
    [[{ id: 'a', time: 1, after: ['b'] }], '"a" comes after "b", which is not there.'],
    [
      [
        { id: 'a', time: 1, after: ['c'] },
        { id: 'b', time: 1, after: ['a'] },
        { id: 'c', time: 1, after: ['b'] },
      ],
      'The steps go round in a circle: a after c after b after a.',
    ],
    [
      [
        { id: 'a', time: 1, after: [] },
        { id: 'a', time: 1, after: [] },
      ],
      '"a" is there twice.',
    ],
    [[{ id: 'a', time: { o: 3, m: 2, p: 1 }, after: [] }], '"a": 3, 2, 1 do not rise.'],
  ])('refuses %j', (given: readonly Activity[], what) => {
    expect(problemIn(criticalPath(given)).what).toBe(what);
  });
});

describe('the likelihood of being done', () => {
  it('of the textbook case within 16 is 71.46 %, and 99 % takes 19.1', () => {
    const whole = valueIn(criticalPath(EIGHT));
    expect(valueIn(likelyWithin(whole, 16)).share).toBeCloseTo(0.7146, 4);
    expect(valueIn(timeFor(whole, 0.99)).time).toBeCloseTo(19.1, 1);
    expect(valueIn(likelyWithin(whole, 16)).answer).toBe(
      '71.5 % likely within 16 min (expected 15, normal approximation along the longest chain). It is hopeful where other chains are nearly as long.',
    );
  });

  it('of the exercise: 99 % takes 58.62', () => {
    expect(valueIn(timeFor(valueIn(criticalPath(FOURTEEN)), 0.99)).time).toBeCloseTo(58.62, 2);
  });

  it('without spread is certain or impossible', () => {
    expect(valueIn(likelyWithin({ expected: 10, variance: 0 }, 10)).share).toBe(1);
    expect(valueIn(likelyWithin({ expected: 10, variance: 0 }, 9)).share).toBe(0);
  });

  it('grows with the time and turns back into it', () => {
    const whole = valueIn(criticalPath(EIGHT));
    const share = fc.double({ min: 0.001, max: 0.998, noNaN: true });
    fc.assert(
      fc.property(share, (s) => {
        const { time } = valueIn(timeFor(whole, s));
        expect(valueIn(likelyWithin(whole, time)).share).toBeCloseTo(s, 6);
        expect(valueIn(timeFor(whole, s + 0.001)).time).toBeGreaterThan(time);
      }),
    );
  });

  it('is refused outside 0 to 100 %, or without a time', () => {
    expect(problemIn(timeFor({ expected: 1, variance: 1 }, 1)).doThis).toContain('90 %');
    expect(problemIn(likelyWithin({ expected: 1, variance: 1 }, Number.NaN)).what).toContain(
      'no time',
    );
  });
});

const minutes = fc.integer({ min: 0, max: 60 });

/** Networks without circles: each activity comes after some of those before it. */
const networks = fc
  .array(
    fc.record({
      points: fc.tuple(minutes, minutes, minutes),
      ties: fc.array(fc.nat({ max: 30 }), { maxLength: 3 }),
    }),
    { minLength: 1, maxLength: 15 },
  )
  .map((rows) =>
    rows.map(({ points, ties }, index): Activity => {
      const [o = 0, m = 0, p = 0] = [...points].sort((a, b) => a - b);
      const after = index === 0 ? [] : [...new Set(ties.map((tie) => `s${tie % index}`))];
      return { id: `s${index}`, time: { o, m, p }, after };
    }),
  );

describe('any network', () => {
  it('keeps the order, has no slack below nothing, and its path fills the whole time', () => {
    fc.assert(
      fc.property(networks, (given) => {
        const whole = valueIn(criticalPath(given.toReversed()));
        for (const { id, after } of given) {
          const own = whole.activities.get(id);
          expect(own?.slack).toBeGreaterThanOrEqual(0);
          for (const before of after) {
            expect(own?.earlyStart).toBeGreaterThanOrEqual(
              (whole.activities.get(before)?.earlyFinish ?? 1e9) - 1e-9,
            );
            expect(own?.lateStart).toBeGreaterThanOrEqual(
              (whole.activities.get(before)?.lateFinish ?? 1e9) - 1e-9,
            );
          }
        }
        const along = whole.path.reduce(
          (sum, id) => sum + (whole.activities.get(id)?.expected ?? 0),
          0,
        );
        expect(along).toBeCloseTo(whole.expected, 6);
      }),
    );
  });

  const sample = fc.sample(networks, { numRuns: 60, seed: 1042 });
  const PROGRAM = `
import json, sys, networkx as nx
answers = []
for rows in json.load(sys.stdin):
    graph = nx.DiGraph()
    for row in rows:
        t = row["time"]
        graph.add_edge(("in", row["id"]), ("out", row["id"]), weight=(t["o"] + 4 * t["m"] + t["p"]) / 6)
        for before in row["after"]:
            graph.add_edge(("out", before), ("in", row["id"]), weight=0)
    answers.append(nx.dag_longest_path_length(graph))
print(json.dumps(answers))
`;
  const python = spawnSync('python3', ['-c', PROGRAM], {
    input: JSON.stringify(sample),
    encoding: 'utf8',
  });
  it.skipIf(python.status !== 0)(
    'is as long as networkx finds it (left out where python3-networkx is not installed)',
    () => {
      const lengths: number[] = JSON.parse(python.stdout);
      expect(lengths).toHaveLength(sample.length);
      for (const [index, given] of sample.entries()) {
        expect(valueIn(criticalPath(given)).expected).toBeCloseTo(lengths[index] ?? Number.NaN, 6);
      }
    },
  );
});

type Case = {
  activities: Record<string, { o: number; m: number; p: number; pred: string[] }>;
  result: Record<'te' | 'var' | 'ES' | 'EF' | 'LS' | 'LF' | 'slack', Record<string, number>> & {
    T: number;
    critical: string[];
    var_cp: number;
    p16: number;
    t99: number;
  };
};
const file = publishedFile('planning.json') as Record<string, Case> | undefined;

it.skipIf(!file)(
  'agrees with planning.json throughout (left out where that file is not beside the checkout)',
  () => {
    const keys = {
      te: 'expected',
      var: 'variance',
      ES: 'earlyStart',
      EF: 'earlyFinish',
      LS: 'lateStart',
      LF: 'lateFinish',
      slack: 'slack',
    } as const;
    expect(Object.keys(file ?? {}).length).toBeGreaterThan(0);
    for (const { activities: rows, result } of Object.values(file ?? {})) {
      const given = Object.entries(rows).map(([id, { pred, ...time }]) => ({
        id,
        time,
        after: pred,
      }));
      const whole = valueIn(criticalPath(given));
      for (const [column, key] of Object.entries(keys) as [keyof typeof keys, keyof Scheduled][]) {
        for (const [id, value] of Object.entries(result[column])) {
          expect(whole.activities.get(id)?.[key], `${id} ${key}`).toBeCloseTo(value, 3);
        }
      }
      expect(whole.expected).toBeCloseTo(result.T, 3);
      expect(whole.path).toEqual(result.critical);
      expect(whole.variance).toBeCloseTo(result.var_cp, 3);
      expect(valueIn(likelyWithin(whole, 16)).share).toBeCloseTo(result.p16, 4);
      expect(Math.abs(valueIn(timeFor(whole, 0.99)).time - result.t99)).toBeLessThan(0.006);
    }
  },
);
