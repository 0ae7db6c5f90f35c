import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type WrenchQuestion,
  wrenchSetting,
} from '../../../src/trade/tightening/wrench-setting.ts';
import type { Unit } from '../../../src/trade/units.ts';
import { problemIn, valueIn } from '../unwrap.ts';

function ask(
  torque: number,
  unit: Unit,
  arm: number,
  extension: number,
  length: Unit,
  angle?: number,
): WrenchQuestion {
  return {
    torque: { value: torque, unit },
    arm: { value: arm, unit: length },
    extension: { value: extension, unit: length },
    ...(angle === undefined ? {} : { angle: { value: angle, unit: 'deg' as const } }),
  };
}

describe('published settings', () => {
  it('US Army TM 1-1500-204-23-9: 300 lbf·in, arm 10 in, extension 4 in is 214 lbf·in', () => {
    const { setting } = valueIn(wrenchSetting(ask(300, 'lbf.in', 10, 4, 'in')));
    expect(Math.round(setting.value)).toBe(214);
    expect(setting.unit).toBe('lbf.in');
  });

  it('100, arm 12, extension 6 is 66.67 (formula of US Navy NAVEDTRA 14315)', () => {
    expect(valueIn(wrenchSetting(ask(100, 'lbf.ft', 12, 6, 'in'))).setting.value).toBeCloseTo(
      66.67,
      2,
    );
  });

  // The same formula, computed apart: 100 × 400 / (400 + 100 cos α).
  it.each([
    [0, 80],
    [45, 84.978],
    [90, 100],
    [135, 121.474],
    [180, 133.333],
  ])('100 N·m, arm 400 mm, extension 100 mm at %d° is %d N·m', (angle, expected) => {
    const { setting } = valueIn(wrenchSetting(ask(100, 'N.m', 400, 100, 'mm', angle)));
    expect(setting.value).toBeCloseTo(expected, 3);
  });
});

describe('what holds for every setting', () => {
  const reach = fc.record({
    torque: fc.double({ min: 1, max: 1000, noNaN: true }),
    arm: fc.double({ min: 300, max: 1500, noNaN: true }),
    extension: fc.double({ min: 1, max: 200, noNaN: true }),
    angle: fc.double({ min: 0, max: 170, noNaN: true }),
  });

  it('the setting rises with the angle, and the moment about the bolt is the one wanted', () => {
    fc.assert(
      fc.property(reach, fc.double({ min: 1, max: 10, noNaN: true }), (r, more) => {
        const at = (angle: number) =>
          valueIn(wrenchSetting(ask(r.torque, 'N.m', r.arm, r.extension, 'mm', angle))).setting
            .value;
        expect(at(r.angle + more)).toBeGreaterThan(at(r.angle));
        // The hand pulls with setting/arm; its lever about the bolt, by the corners of the figure in metres.
        const bolt = [
          r.extension * Math.cos((r.angle * Math.PI) / 180),
          r.extension * Math.sin((r.angle * Math.PI) / 180),
        ];
        const pull = at(r.angle) / r.arm;
        expect((pull * (r.arm + (bolt[0] ?? 0))) / r.torque).toBeCloseTo(1, 9);
      }),
    );
  });

  it('an angle 10° off is shown as a band around the torque at the bolt', () => {
    const { atBoltIfAngleIsOff } = valueIn(wrenchSetting(ask(100, 'N.m', 400, 100, 'mm', 90)));
    // cos 80° = −cos 100° = 0.173648: 100 × (400 ± 17.3648)/400.
    expect(atBoltIfAngleIsOff.low).toBeCloseTo(95.659, 3);
    expect(atBoltIfAngleIsOff.high).toBeCloseTo(104.341, 3);
  });
});

describe('what is said', () => {
  it('the setting first, then its basis, then where the figures come from', () => {
    const question = {
      ...ask(300, 'N.m', 400, 100, 'mm'),
      source: 'the plan: demonstration values',
    };
    expect(valueIn(wrenchSetting(question)).answer).toBe(
      "Set 240 N·m on the wrench (300 N·m at the bolt, arm 400 mm, extension 100 mm in line). Figures from the plan: demonstration values; the maker's data comes first.",
    );
  });

  it.each([
    [0, 100, []],
    // By hand, 10° off either way: 84.978 × (400 + 100 cos 35°)/400 = 102.38, with cos 55° 97.16; so the others.
    [90, 100, ['10° off it the bolt gets 95.66 to 104.3 N·m']],
    [45, 100, ['10° off it the bolt gets 97.16 to 102.4 N·m']],
    [135, 100, ['points back', '10° off it the bolt gets 96.6 to 104.1 N·m']],
    [180, 100, ['points back']],
    [0, 201, ['long for this arm']],
    [0, 200, []],
  ])('at %d° with %d mm on an arm of 400 mm: cautions %j', (angle, extension, says) => {
    const { cautions } = valueIn(wrenchSetting(ask(100, 'N.m', 400, extension, 'mm', angle)));
    expect(cautions).toHaveLength(says.length);
    for (const [index, words] of says.entries()) expect(cautions[index]).toContain(words);
  });
});

describe('what is refused', () => {
  const good = ask(100, 'N.m', 400, 100, 'mm');
  it.each<[string, WrenchQuestion, string]>([
    ['a torque in litres', ask(28, 'L', 400, 100, 'mm'), 'volume, not torque'],
    ['no arm', ask(100, 'N.m', 0, 100, 'mm'), 'The arm is 0 mm'],
    ['a negative extension', ask(100, 'N.m', 400, -1, 'mm'), 'The extension is -1 mm'],
    ['an angle of 200°', ask(100, 'N.m', 400, 100, 'mm', 200), 'The angle is 200°'],
    ['a torque that is no figure', ask(Number.NaN, 'N.m', 400, 100, 'mm'), 'no figure'],
    ['an extension back to the hand', ask(100, 'N.m', 400, 350, 'mm', 180), 'reaches back'],
    [
      'a setting below the wrench',
      {
        ...good,
        wrench: { least: { value: 100, unit: 'N.m' }, most: { value: 500, unit: 'N.m' } },
      },
      'The setting would be 80 N·m',
    ],
    [
      'a wrench in litres',
      { ...good, wrench: { least: { value: 1, unit: 'L' }, most: { value: 5, unit: 'L' } } },
      'L measures volume',
    ],
  ])('%s', (_, question, says) => {
    expect(problemIn(wrenchSetting(question)).what).toContain(says);
  });

  it('not the ends of what the wrench has', () => {
    const wrench = { least: { value: 80, unit: 'N.m' }, most: { value: 80, unit: 'N.m' } } as const;
    expect(valueIn(wrenchSetting({ ...good, wrench })).setting.value).toBe(80);
  });
});
