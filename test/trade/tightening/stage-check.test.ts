import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  checkFigure,
  checkStage,
  type StageTarget,
} from '../../../src/trade/tightening/stage-check.ts';
import type { Quantity } from '../../../src/trade/units.ts';
import { problemIn, valueIn } from '../unwrap.ts';

const torque: StageTarget = { figure: { value: 300, unit: 'N.m' }, tolerance: { percent: 4 } };
const angle: StageTarget = {
  figure: { value: 90, unit: 'deg' },
  tolerance: { plusMinus: { value: 5, unit: 'deg' } },
};
const nm = (value: number): Quantity => ({ value, unit: 'N.m' });
const deg = (value: number): Quantity => ({ value, unit: 'deg' });

describe('a figure against its tolerance', () => {
  // 300 ± 4 % is 288 to 312; 90 ± 5 is 85 to 95; 221 lbf·ft is 299.6 N·m, 212 is 287.4 (1.35582 each).
  it.each<[StageTarget, Quantity, string]>([
    [torque, nm(300), 'within'],
    [torque, nm(288), 'within'],
    [torque, nm(312), 'within'],
    [torque, nm(287.9), 'below'],
    [torque, nm(312.1), 'above'],
    [torque, { value: 221, unit: 'lbf.ft' }, 'within'],
    [torque, { value: 212, unit: 'lbf.ft' }, 'below'],
    [angle, deg(85), 'within'],
    [angle, deg(84), 'below'],
    [angle, deg(96), 'above'],
  ])('%j with %j is %s', (target, reported, verdict) => {
    expect(valueIn(checkFigure(target, reported)).verdict).toBe(verdict);
  });

  it('an end that floating point cannot hold is still allowed', () => {
    // 0.3 ± 10 % ends at 0.33, which 0.3 + 0.03 misses by dust.
    const small: StageTarget = { figure: nm(0.3), tolerance: { percent: 10 } };
    expect(valueIn(checkFigure(small, nm(0.33))).verdict).toBe('within');
    expect(valueIn(checkFigure(small, nm(0.27))).verdict).toBe('within');
  });

  it('a tolerance in another unit of torque counts: 10 lbf·ft is 13.558 N·m', () => {
    const mixed: StageTarget = {
      ...torque,
      tolerance: { plusMinus: { value: 10, unit: 'lbf.ft' } },
    };
    const { low, high } = valueIn(checkFigure(mixed, nm(300)));
    expect(low).toBeCloseTo(286.442, 3);
    expect(high).toBeCloseTo(313.558, 3);
  });

  it('says the figure, the range and what to do', () => {
    expect(valueIn(checkFigure(torque, nm(300), 'the plan: demonstration values')).answer).toBe(
      "300 N·m is in the range 288 to 312 N·m (300 N·m ± 4 %). Figures from the plan: demonstration values; the maker's data comes first.",
    );
    expect(valueIn(checkFigure(torque, nm(260))).answer).toBe(
      "260 N·m is 28 N·m below the range 288 to 312 N·m (300 N·m ± 4 %). Do the stage again before the next one. The maker's data comes first.",
    );
    expect(valueIn(checkFigure(angle, deg(120))).answer).toContain('25° above the range 85 to 95°');
    expect(valueIn(checkFigure(torque, { value: 221, unit: 'lbf.ft' })).answer).toContain(
      '221 lbf·ft = 299.6 N·m is in the range',
    );
  });

  it('every figure is on one side only, and the verdict does not depend on the unit it is said in', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 600 }), (value) => {
        const expected = value < 288 ? 'below' : value > 312 ? 'above' : 'within';
        expect(valueIn(checkFigure(torque, nm(value))).verdict).toBe(expected);
        const inPounds: Quantity = { value: value * 0.737562149277265, unit: 'lbf.ft' };
        expect(valueIn(checkFigure(torque, inPounds)).verdict).toBe(expected);
      }),
    );
  });
});

describe('what is refused', () => {
  it.each<[string, StageTarget, Quantity, string]>([
    [
      'a torque in litres',
      torque,
      { value: 28, unit: 'L' },
      'given as 28 L, which is volume, not torque',
    ],
    ['an angle for a torque', torque, deg(90), 'which is angle, not torque'],
    ['a negative torque', torque, nm(-300), 'The torque is -300 N·m'],
    ['no figure', torque, nm(Number.NaN), 'no figure'],
    ['6000 degrees for 60', angle, deg(6000), 'The angle is 6000°'],
    [
      'a tolerance of 400 %',
      { ...torque, tolerance: { percent: 400 } },
      nm(300),
      'The tolerance in % is 400',
    ],
    [
      'a tolerance in litres',
      { ...torque, tolerance: { plusMinus: { value: 1, unit: 'L' } } },
      nm(300),
      'The tolerance is given as 1 L',
    ],
    [
      'a stage in bar',
      { figure: { value: 3, unit: 'bar' }, tolerance: { percent: 4 } },
      nm(300),
      'neither a torque nor an angle',
    ],
  ])('%s', (_, target, reported, says) => {
    expect(problemIn(checkFigure(target, reported)).what).toContain(says);
  });
});

describe('a whole stage', () => {
  it('by torque and by angle is within when both are', () => {
    const stage = valueIn(checkStage({ torque, angle }, { torque: nm(300), angle: deg(90) }));
    expect(stage.verdict).toBe('within');
    expect(stage.missing).toEqual([]);
  });

  it('is out when one is, and asks for what is missing', () => {
    const stage = valueIn(checkStage({ torque, angle }, { torque: nm(200) }));
    expect(stage.verdict).toBe('out-of-limits');
    expect(stage.missing).toEqual(['angle']);
    expect(stage.answer).toContain('Still to be reported: the angle.');
    expect(valueIn(checkStage({ torque, angle }, {})).verdict).toBe('figure-missing');
    expect(valueIn(checkStage({ torque, angle }, {})).answer).toContain(
      'the torque and the angle.',
    );
  });

  it('refuses a figure that the stage does not have, and a plan without any', () => {
    expect(problemIn(checkStage({ torque }, { torque: nm(300), angle: deg(90) })).what).toBe(
      'This stage has no angle, but 90° is reported.',
    );
    expect(problemIn(checkStage({}, {})).doThis).toContain('Mend the plan');
    expect(problemIn(checkStage({ torque: angle }, { torque: nm(300) })).doThis).toContain(
      'unit of torque',
    );
  });
});
