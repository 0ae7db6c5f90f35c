import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  afterRefill,
  type MixQuestion,
  replacementVolume,
  replaceToReach,
  type Strength,
} from '../../../src/trade/coolant/dilution.ts';
import { freezePoint } from '../../../src/trade/coolant/freeze-point.ts';
import { problemIn, valueIn } from '../unwrap.ts';

const system = (litres: number, percent: number, fillPercent?: number): MixQuestion => ({
  glycol: 'ethylene',
  system: { value: litres, unit: 'L' },
  have: { percent },
  ...(fillPercent === undefined ? {} : { fillPercent }),
});
const reach = (question: MixQuestion, target: Strength) => replaceToReach({ ...question, target });

describe('how much to drain and refill, V = Vt (Ct - C0)/(Cc - C0), published calculator formula', () => {
  it.each([
    [40, 30, 50, 100, 11.4286],
    [40, 40, 50, 100, 6.6667],
    [45, 25, 50, 100, 15],
    [40, 60, 50, 0, 6.6667],
  ])('%d L from %d to %d %% with a fill of %d %%: %d L', (litres, have, target, fill, expected) => {
    expect(valueIn(reach(system(litres, have, fill), { percent: target })).litres).toBeCloseTo(
      expected,
      4,
    );
    expect(replacementVolume(litres, have, target, fill)).toBeCloseTo(expected, 4);
  });

  it('in gallons of a said size: 40 L is 8.7988 imperial gallons', () => {
    // 40 / 4.54609 = 8.798770.
    const gallons = { ...system(40, 30), system: { value: 8.79877, unit: 'gal_imp' } } as const;
    expect(valueIn(reach(gallons, { percent: 50 })).litres).toBeCloseTo(11.4286, 3);
  });

  it('nothing when the target is what is there, even with a fill of the same strength', () => {
    const value = valueIn(reach(system(40, 50, 50), { percent: 50 }));
    expect(value.litres).toBe(0);
    expect(value.answer).toMatch(/^Nothing to replace/);
  });

  it('from tester readings: enough is replaced that the target holds by the warmer source', () => {
    const question = {
      ...system(40, 0),
      have: { freezesAt: { value: -15, unit: 'Cel' } },
    } as const;
    const value = valueIn(reach(question, { freezesAt: { value: -36, unit: 'Cel' } }));
    const { warmest } = valueIn(
      freezePoint({ glycol: 'ethylene', by: 'volume', percent: value.targetPercent }),
    );
    expect(warmest).toBeCloseTo(-36, 5);
    // What is there counts as the weaker figure: by the colder source it freezes at -15 °C.
    const { coldest } = valueIn(
      freezePoint({ glycol: 'ethylene', by: 'volume', percent: value.havePercent }),
    );
    expect(coldest).toBeCloseTo(-15, 5);
  });

  it('says what to do, and that it scalds', () => {
    const question = { ...system(45, 25), source: 'the plan: demonstration values' };
    expect(valueIn(reach(question, { percent: 50 })).answer).toBe(
      "Drain 15 L and refill with 15 L of concentrate (system 45 L, from 25 to 50 % ethylene glycol by volume). Let it cool first: hot coolant under pressure scalds. Figures from the plan: demonstration values; the maker's data comes first.",
    );
    expect(valueIn(reach(system(40, 60, 0), { percent: 50 })).answer).toContain('6.67 L of water');
    expect(valueIn(reach(system(40, 20, 50), { percent: 40 })).answer).toContain(
      'of a 50 % mixture',
    );
  });
});

describe('what a part drain and refill leaves', () => {
  it('28 of 40 L at 30 % refilled with 50 %: 44.0 %', () => {
    const value = valueIn(
      afterRefill({ ...system(40, 30, 50), drained: { value: 28, unit: 'L' } }),
    );
    // (30 × 12 + 50 × 28)/40 = 44.
    expect(value.percent).toBeCloseTo(44, 9);
    expect(value.answer).toMatch(/^44 % ethylene glycol by volume, good down to -2\d/);
  });

  it('too strong a mixture is named, without a freezing point', () => {
    const value = valueIn(afterRefill({ ...system(40, 50), drained: { value: 20, unit: 'L' } }));
    expect(value.percent).toBe(75);
    expect(value.freezesAt).toBeUndefined();
    expect(value.answer).toContain('too strong');
  });

  it('undoes the other calculation', () => {
    const percent = fc.double({ min: 0, max: 60, noNaN: true });
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 200, noNaN: true }),
        percent,
        percent,
        (litres, have, target) => {
          const fill = target > have ? 100 : 0;
          const { litres: drained } = valueIn(
            reach(system(litres, have, fill), { percent: target }),
          );
          expect(drained).toBeGreaterThanOrEqual(0);
          expect(drained).toBeLessThanOrEqual(litres);
          const after = valueIn(
            afterRefill({ ...system(litres, have, fill), drained: { value: drained, unit: 'L' } }),
          );
          expect(after.percent).toBeCloseTo(target, 6);
        },
      ),
    );
  });
});

describe('what is refused', () => {
  it.each<[string, MixQuestion, Strength, string]>([
    [
      'above what the fill can reach',
      system(40, 30, 40),
      { percent: 50 },
      '50 % cannot be reached from 30 %',
    ],
    ['below what concentrate can reach', system(40, 50), { percent: 40 }, 'filling in concentrate'],
    ['a target past 60 %', system(40, 50), { percent: 70 }, 'too strong'],
    ['6000 instead of 60', system(40, 50), { percent: 6000 }, 'The target in % is 6000'],
    ['a negative volume', system(-40, 30), { percent: 50 }, "The system's volume is -40 L"],
    ['no volume', system(0, 30), { percent: 50 }, 'holds 0 L'],
    [
      'a volume in newton metres',
      { ...system(40, 30), system: { value: 40, unit: 'N.m' } },
      { percent: 50 },
      'torque, not volume',
    ],
    [
      'gallons of no said size',
      { ...system(40, 30), system: { value: 10, unit: 'gal' } },
      { percent: 50 },
      'US gal',
    ],
    ['a fill of 150 %', system(40, 30, 150), { percent: 50 }, 'The fill in % is 150'],
    ['no figure now', system(40, Number.NaN), { percent: 50 }, 'no figure'],
    [
      'a freezing point above nought',
      system(40, 30),
      { freezesAt: { value: 36, unit: 'Cel' } },
      '36 °C',
    ],
  ])('%s', (_, question, target, says) => {
    expect(problemIn(reach(question, target)).what).toContain(says);
  });

  it('more drained than there is', () => {
    const drained = { value: 41, unit: 'L' } as const;
    expect(problemIn(afterRefill({ ...system(40, 30), drained })).what).toBe(
      "41 L is more than the system's 40 L.",
    );
  });
});
