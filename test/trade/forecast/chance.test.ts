import { describe, expect, it } from 'vitest';
import {
  chance,
  drawGamma,
  drawNormal,
  drawStudent,
  drawThreePoint,
  seedOf,
  stream,
} from '../../../src/trade/forecast/chance.ts';

const MANY = 40_000;
const drawn = (draw: () => number): { readonly mean: number; readonly variance: number } => {
  const values = Array.from({ length: MANY }, draw);
  const mean = values.reduce((sum, value) => sum + value, 0) / MANY;
  return { mean, variance: values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / MANY };
};

describe('drawn numbers', () => {
  it('are those of xoshiro128** worked by hand from the state 1, 2, 3, 4', () => {
    // First 2·5 turned by 7 is 1280, times 9 is 11520. The state becomes 7, 0, 1026, 12288: 0. Then 12295, 1029, 1029,
    // 6 turned by 11 being 12288 turned again: 1029·5 turned by 7 is 658560, times 9 is 5927040.
    const next = stream(1, 2, 3, 4);
    expect([next(), next(), next()]).toEqual([11_520, 0, 5_927_040]);
  });

  it('are the same for the same seed, and others for another', () => {
    const five = (seed: number) => Array.from({ length: 5 }, chance(seed));
    expect(five(seedOf('1042'))).toEqual(five(seedOf('1042')));
    expect(five(seedOf('1042'))).not.toEqual(five(seedOf('1043')));
    for (const value of five(7)) expect(value >= 0 && value < 1).toBe(true);
  });

  // Means and variances of the curves, from any handbook; 40,000 draws lie within four deviations of their mean.
  it('of the normal curve have mean 0 and variance 1', () => {
    const { mean, variance } = drawn(() => drawNormal(next));
    expect(Math.abs(mean)).toBeLessThan(0.02);
    expect(Math.abs(variance - 1)).toBeLessThan(0.03);
  });

  it('of a gamma curve have its shape as mean and as variance', () => {
    const { mean, variance } = drawn(() => drawGamma(next, 3));
    expect(Math.abs(mean - 3)).toBeLessThan(0.035);
    expect(Math.abs(variance - 3)).toBeLessThan(0.14);
  });

  it('of Student with 10 degrees of freedom have variance 10/8', () => {
    const { mean, variance } = drawn(() => drawStudent(next, 10));
    expect(Math.abs(mean)).toBeLessThan(0.025);
    expect(Math.abs(variance - 1.25)).toBeLessThan(0.06);
  });

  it.each([
    [1, 2, 9],
    [10, 20, 60],
    [5, 5, 20],
    [4, 20, 20],
  ])('of the three points %d, %d, %d lie between them about (o + 4m + p)/6', (o, m, p) => {
    const time = { o, m, p };
    let outside = 0;
    const { mean, variance } = drawn(() => {
      const value = drawThreePoint(next, time);
      if (!(value >= o && value <= p)) outside += 1;
      return value;
    });
    expect(outside).toBe(0);
    const middle = (o + 4 * m + p) / 6;
    // The beta curve of PERT has the variance (middle - o)(p - middle)/7.
    const square = ((middle - o) * (p - middle)) / 7;
    expect(Math.abs(mean - middle)).toBeLessThan(4 * Math.sqrt(square / MANY));
    expect(variance / square).toBeGreaterThan(0.95);
    expect(variance / square).toBeLessThan(1.05);
  });

  it('of a time without spread are that time', () => {
    expect(drawThreePoint(next, { o: 7, m: 7, p: 7 })).toBe(7);
  });

  const next = chance(1042);
});
