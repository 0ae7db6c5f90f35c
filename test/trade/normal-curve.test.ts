import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { pointFor, shareBelow } from '../../src/trade/normal-curve.ts';

describe('the standard normal curve', () => {
  // The table of every statistics textbook, from memory.
  it.each([
    [0, 0.5],
    [1, 0.84134],
    [1.28155, 0.9],
    [1.64485, 0.95],
    [1.95996, 0.975],
    [2.32635, 0.99],
    [3, 0.99865],
  ])('at %d has a share of %d below', (z, share) => {
    expect(shareBelow(z)).toBeCloseTo(share, 5);
    expect(shareBelow(-z)).toBeCloseTo(1 - share, 5);
    expect(pointFor(share)).toBeCloseTo(z, 2);
  });

  const points = Array.from({ length: 121 }, (_, n) => n / 10 - 6);
  const python = spawnSync(
    'python3',
    [
      '-c',
      'import json,statistics as s,sys\nprint(json.dumps([s.NormalDist().cdf(z) for z in json.load(sys.stdin)]))',
    ],
    { input: JSON.stringify(points), encoding: 'utf8' },
  );
  it.skipIf(python.status !== 0)(
    'agrees with the statistics module of Python to 1.5e-7 (left out where there is no python3)',
    () => {
      const shares: number[] = JSON.parse(python.stdout);
      expect(shares).toHaveLength(points.length);
      for (const [index, z] of points.entries()) {
        expect(Math.abs(shareBelow(z) - (shares[index] ?? Number.NaN)), `z ${z}`).toBeLessThan(
          1.5e-7,
        );
      }
    },
  );
});
