import { describe, expect, it } from 'vitest';
import { threePoint } from '../../src/trade/three-point.ts';
import { problemIn, valueIn } from './unwrap.ts';

describe('a three-point time', () => {
  // A textbook case of eight activities (from memory) and a published exercise of fourteen; hundredths of their tables.
  it.each([
    [1, 2, 3, 2, 0.1111],
    [2, 4, 6, 4, 0.4444],
    [1, 4, 7, 4, 1],
    [1, 2, 9, 3, 1.7778],
    [3, 4, 11, 5, 1.7778],
    [5, 5, 7, 5.3333, 0.1111],
    [4, 8, 13, 8.1667, 2.25],
    [1, 10, 17, 9.6667, 7.1111],
    [5, 5, 5, 5, 0],
  ])('%d, %d, %d is %d with variance %d', (o, m, p, expected, variance) => {
    const estimate = valueIn(threePoint({ o, m, p }));
    expect(estimate.expected).toBeCloseTo(expected, 4);
    expect(estimate.variance).toBeCloseTo(variance, 4);
  });

  it('is answered in minutes', () => {
    // (30 + 4 · 45 + 90)/6 = 50; (90 - 30)/6 = 10.
    expect(valueIn(threePoint({ o: 30, m: 45, p: 90 })).answer).toBe(
      '50 min expected, from 30, 45, 90 by (o + 4m + p)/6; give or take 10 min (one standard deviation).',
    );
  });

  it('is refused where the figures do not rise', () => {
    expect(problemIn(threePoint({ o: 5, m: 4, p: 6 })).what).toBe('5, 4, 6 do not rise.');
    expect(problemIn(threePoint({ o: -1, m: 4, p: 6 })).what).toContain('0 or more');
    expect(problemIn(threePoint({ o: 1, m: Number.NaN, p: 6 })).what).toContain('three figures');
  });
});
