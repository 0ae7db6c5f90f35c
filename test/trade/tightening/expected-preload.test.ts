import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { preloadByNutFactor } from '../../../src/trade/tightening/bolt-force.ts';
import {
  expectedPreload,
  type PreloadQuestion,
} from '../../../src/trade/tightening/expected-preload.ts';
import { problemIn, valueIn } from '../unwrap.ts';

const M12: PreloadQuestion = {
  size: 'M12',
  boltClass: '10.9',
  surface: 'lubricated',
  stages: [{ torque: { value: 80, unit: 'N.m' } }],
};

describe('the band', () => {
  it('of T = K·d·F by hand: M12, 80 N·m, K 0.18 ± 25 % is 27.8 to 46.3 kN', () => {
    // 80 / (0.18 × 0.012) = 37 037 N; × 0.75 = 27 778 N; × 1.25 = 46 296 N.
    const { byNutFactor } = valueIn(expectedPreload(M12));
    expect(byNutFactor.low).toBeCloseTo(27_778, -1);
    expect(byNutFactor.high).toBeCloseTo(46_296, -1);
  });

  it('of dry plain steel by hand: K 0.30 ± 35 % is 14.4 to 30.0 kN', () => {
    // 80 / (0.30 × 0.012) = 22 222 N; × 0.65 = 14 444 N; × 1.35 = 30 000 N.
    const { byNutFactor } = valueIn(expectedPreload({ ...M12, surface: 'dry' }));
    expect(byNutFactor.low).toBeCloseTo(14_444, -1);
    expect(byNutFactor.high).toBeCloseTo(30_000, -1);
  });

  // VDI 2230:2003 as reprinted: size, class, µ, kN, N·m. µ from 0.10 to 0.14 lies inside the range of a lubricated bolt.
  it.each([
    ['M8x1', '8.8', 20.7, 22.8],
    ['M10x1.25', '12.9', 54.3, 87],
    ['M12x1.25', '8.8', 46.8, 101],
    ['M16x1.5', '12.9', 146.9, 420],
    ['M24x2', '8.8', 204, 865],
  ])(
    'by friction holds the published %s class %s: %d kN at %d N·m',
    (size, boltClass, kilonewtons, torque) => {
      const { byFriction } = valueIn(
        expectedPreload({
          size,
          boltClass,
          surface: 'lubricated',
          stages: [{ torque: { value: torque, unit: 'N.m' } }],
        }),
      );
      expect(byFriction.low).toBeLessThan(kilonewtons * 1000);
      expect(byFriction.high).toBeGreaterThan(kilonewtons * 1000);
    },
  );

  it('of K 0.18 ± 25 % holds ten measured lubricated bolts at 90 N·m (Shigley ch. 8; size 1/2 in from memory)', () => {
    const middle = preloadByNutFactor(0.18, 12.7, 90) / 1000;
    for (const measured of [30.3, 32.5, 32.5, 32.9, 32.9, 33.8, 34.3, 34.7, 37.4, 40.5]) {
      expect(measured).toBeGreaterThan(0.75 * middle);
      expect(measured).toBeLessThan(1.25 * middle);
    }
  });

  it('covers both ways, and its share is of the published proof load (ISO 898-1: M12 class 10.9, 70,000 N)', () => {
    const value = valueIn(expectedPreload(M12));
    expect(value.band.low).toBe(Math.min(value.byFriction.low, value.byNutFactor.low));
    expect(value.band.high).toBe(Math.max(value.byFriction.high, value.byNutFactor.high));
    expect(value.shareOfProof.low).toBeCloseTo(value.band.low / 70_000, 2);
    expect(value.shareOfProof.high).toBeCloseTo(value.band.high / 70_000, 2);
  });

  it('is always a band, and rises with the torque', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('M8', 'M12', 'M12x1.25', 'M20', 'M24x2'),
        fc.constantFrom('8.8', '10.9', '12.9'),
        fc.constantFrom('lubricated' as const, 'zinc-dry' as const, 'dry' as const),
        fc.double({ min: 1, max: 20, noNaN: true }),
        fc.double({ min: 0.1, max: 5, noNaN: true }),
        (size, boltClass, surface, torque, more) => {
          const at = (value: number) =>
            valueIn(
              expectedPreload({
                size,
                boltClass,
                surface,
                stages: [{ torque: { value, unit: 'N.m' } }],
              }),
            ).band;
          const [small, large] = [at(torque), at(torque + more)];
          expect(small.high).toBeGreaterThan(1.2 * small.low);
          expect(large.low).toBeGreaterThan(small.low);
          expect(large.high).toBeGreaterThan(small.high);
        },
      ),
    );
  });

  it('is the same when the torque is given in lbf·ft', () => {
    // 80 N·m = 80 × 0.737562149277265 lbf·ft (GNU Units).
    const inPounds = { torque: { value: 80 * 0.737562149277265, unit: 'lbf.ft' } } as const;
    const a = valueIn(expectedPreload(M12)).band;
    const b = valueIn(expectedPreload({ ...M12, stages: [inPounds] })).band;
    expect(b.low).toBeCloseTo(a.low, 6);
  });
});

describe('what is said', () => {
  it('the band first, then its basis; the last torque stage counts', () => {
    const { answer, cautions } = valueIn(
      expectedPreload({
        ...M12,
        stages: [{ torque: { value: 20, unit: 'N.m' } }, { torque: { value: 60, unit: 'N.m' } }],
      }),
    );
    expect(cautions).toEqual([]);
    expect(answer).toMatch(
      /^Expect [\d.]+ to [\d.]+ kN of preload, \d+ to \d+ % of the proof load \(M12 class 10\.9, lubricated, 60 N·m; .+\)\. The maker's data comes first\.$/,
    );
  });

  it('a caution when little friction would stretch the bolt', () => {
    const hard = { ...M12, stages: [{ torque: { value: 130, unit: 'N.m' } }] } as const;
    expect(valueIn(expectedPreload(hard)).answer).toContain('stretched past its proof load');
  });
});

describe('what is refused, without a figure of preload', () => {
  const angle = { value: 90, unit: 'deg' } as const;
  it.each<[string, Partial<PreloadQuestion>, string]>([
    ['a stage by angle', { stages: [...M12.stages, { angle }] }, 'after the stage of 90°'],
    [
      'an angle in the same stage',
      { stages: [{ ...M12.stages[0], angle }] },
      'after the stage of 90°',
    ],
    ['no torque', { stages: [] }, 'No stage has a torque'],
    ['an unknown size', { size: 'M11' }, '"M11"'],
    ['an unknown class', { boltClass: '4.6' }, '"4.6"'],
    ['an unknown surface', { surface: 'wet' as 'dry' }, '"wet"'],
    [
      'a torque in litres',
      { stages: [{ torque: { value: 28, unit: 'L' } }] },
      'volume, not torque',
    ],
    ['a torque of minus 5', { stages: [{ torque: { value: -5, unit: 'N.m' } }] }, '-5 N·m'],
    ['no figure', { stages: [{ torque: { value: Number.NaN, unit: 'N.m' } }] }, 'no figure'],
    [
      'a torque past yield',
      { stages: [{ torque: { value: 900, unit: 'N.m' } }] },
      'past the proof load',
    ],
  ])('%s', (_, change, says) => {
    const problem = problemIn(expectedPreload({ ...M12, ...change }));
    expect(problem.what).toContain(says);
    expect(problem.what).not.toContain('kN');
    expect(problem.doThis).not.toBe('');
  });
});
