import fc from 'fast-check';
import { DateTime } from 'luxon';
import { describe, expect, it } from 'vitest';
import { addMonths, dateOf } from '../../../src/trade/tightening/calendar-date.ts';
import {
  type ToolRecord,
  toolState,
  toolTolerance,
} from '../../../src/trade/tightening/torque-tool.ts';
import { problemIn, valueIn } from '../unwrap.ts';

describe('tolerance of the tool (ISO 6789 as quoted by tool makers)', () => {
  // ±4 % above 10 N·m, ±6 % at or below.
  it.each([
    [300, 'N.m', 4, 288, 312],
    [10.1, 'N.m', 4, 9.696, 10.504],
    [10, 'N.m', 6, 9.4, 10.6],
    [5, 'N.m', 6, 4.7, 5.3],
    // 7 lbf·ft is 9.49 N·m, 8 lbf·ft is 10.85 N·m: the limit is in N·m whatever unit is shown.
    [7, 'lbf.ft', 6, 6.58, 7.42],
    [8, 'lbf.ft', 4, 7.68, 8.32],
  ] as const)('%d %s: ±%d %%, %d to %d', (value, unit, percent, low, high) => {
    const tolerance = valueIn(toolTolerance({ value, unit }));
    expect(tolerance.percent).toBe(percent);
    expect(tolerance.low).toBeCloseTo(low, 9);
    expect(tolerance.high).toBeCloseTo(high, 9);
  });

  it('says the range first', () => {
    expect(valueIn(toolTolerance({ value: 300, unit: 'N.m' })).answer).toBe(
      "288 to 312 N·m at the bolt (300 N·m shown, ± 4 % for a tool that keeps ISO 6789). The maker's data comes first.",
    );
  });

  it('refuses a pressure, nought and no figure', () => {
    expect(problemIn(toolTolerance({ value: 3, unit: 'bar' })).what).toContain(
      'pressure, not torque',
    );
    expect(problemIn(toolTolerance({ value: 0, unit: 'N.m' })).what).toContain('0 N·m');
    expect(problemIn(toolTolerance({ value: Number.NaN, unit: 'N.m' })).what).toContain(
      'no figure',
    );
  });
});

describe('whether the tool is in date', () => {
  const overload = (value: number) => ({
    torque: { value, unit: 'N.m' as const },
    largestSetting: { value: 200, unit: 'N.m' as const },
  });
  it.each<[ToolRecord, string, string, string]>([
    [{ calibratedOn: '2026-03-01' }, '2026-03-01', 'in-date', ''],
    [{ calibratedOn: '2026-03-01' }, '2027-03-01', 'in-date', ''],
    [{ calibratedOn: '2026-03-01' }, '2027-03-02', 'out-of-date', 'ran out on 2027-03-01'],
    [{ calibratedOn: '2024-02-29' }, '2025-02-28', 'in-date', ''],
    [{ calibratedOn: '2024-02-29' }, '2025-03-01', 'out-of-date', 'ran out on 2025-02-28'],
    [{ calibratedOn: '2026-03-01', cycles: 4999 }, '2026-04-01', 'in-date', ''],
    [
      { calibratedOn: '2026-03-01', cycles: 5000 },
      '2026-04-01',
      'out-of-date',
      '5000 of 5000 pulls',
    ],
    // 25 % over 200 N·m is 250 N·m.
    [{ calibratedOn: '2026-03-01', overload: overload(250) }, '2026-04-01', 'in-date', ''],
    [
      { calibratedOn: '2026-03-01', overload: overload(251) },
      '2026-04-01',
      'out-of-date',
      '251 N·m',
    ],
  ])('%j on %s is %s', (tool, today, state, says) => {
    const value = valueIn(toolState(tool, today));
    expect(value.state).toBe(state);
    expect(value.reasons.join(' ')).toContain(says);
    expect(value.reasons.length > 0).toBe(state === 'out-of-date');
  });

  it("goes by the workshop's own limits when it has them", () => {
    const limits = { months: 6, cycles: 1000 };
    const tool = { calibratedOn: '2026-03-01', cycles: 1200 };
    const value = valueIn(toolState(tool, '2026-10-01', limits));
    expect(value.lastDay).toBe('2026-09-01');
    expect(value.reasons).toEqual([
      'Its calibration ran out on 2026-09-01.',
      'It has had 1200 of 1000 pulls.',
    ]);
  });

  it('goes by the last day of the register where it gives one', () => {
    // Two dates of the demonstration register, a day short of twelve months.
    const tool = { calibratedOn: '2025-11-03', lastDay: '2026-11-02' };
    expect(valueIn(toolState(tool, '2026-11-02')).answer).toBe(
      "In date until 2026-11-02 (calibrated 2025-11-03, last day from the register or 5000 pulls). The workshop's own procedure comes first.",
    );
    expect(valueIn(toolState(tool, '2026-11-03')).state).toBe('out-of-date');
    expect(problemIn(toolState({ ...tool, lastDay: 'soon' }, '2026-11-03')).what).toContain(
      'The last day',
    );
    expect(valueIn(toolState({ lastDay: '2026-11-02' }, '2026-11-03')).answer).toMatch(
      /^Out of date \(last day from the register or 5000 pulls\)\. Its calibration ran out/,
    );
    expect(problemIn(toolState({}, '2026-11-03')).what).toBe('The tool has no date.');
  });

  it('says what to do with what was tightened', () => {
    expect(valueIn(toolState({ calibratedOn: '2024-01-10' }, '2026-01-10')).answer).toBe(
      'Out of date (calibrated 2024-01-10, 12 months or 5000 pulls). Its calibration ran out on 2025-01-10. Take another tool, and go over what was tightened with this one.',
    );
  });

  it.each<[string, ToolRecord, string, string]>([
    ['a date that is not one', { calibratedOn: '2026-02-30' }, '2026-03-01', '2026-02-30'],
    ['another form of date', { calibratedOn: '01/03/2026' }, '2026-03-01', '01/03/2026'],
    ['today not a date', { calibratedOn: '2026-03-01' }, 'today', 'today'],
    ['a calibration after today', { calibratedOn: '2026-03-02' }, '2026-03-01', 'after today'],
    ['pulls below nought', { calibratedOn: '2026-01-01', cycles: -1 }, '2026-03-01', '-1'],
    [
      'pulls that are no figure',
      { calibratedOn: '2026-01-01', cycles: Number.NaN },
      '2026-03-01',
      'no figure',
    ],
  ])('refuses %s', (_, tool, today, says) => {
    expect(problemIn(toolState(tool, today)).what).toContain(says);
  });

  it('refuses limits of nothing', () => {
    const tool = { calibratedOn: '2026-01-01' };
    expect(problemIn(toolState(tool, '2026-03-01', { months: 0, cycles: 5000 })).what).toContain(
      'months',
    );
    expect(problemIn(toolState(tool, '2026-03-01', { months: 12, cycles: 0.5 })).what).toContain(
      'pulls',
    );
  });
});

describe('calendar days, against luxon', () => {
  const day = fc
    .integer({ min: 0, max: 100_000 })
    .map(
      (days) => DateTime.fromISO('1970-01-01', { zone: 'utc' }).plus({ days }).toISODate() ?? '',
    );

  it('so many months on', () => {
    fc.assert(
      fc.property(day, fc.integer({ min: 0, max: 120 }), (date, months) => {
        const expected = DateTime.fromISO(date, { zone: 'utc' }).plus({ months }).toISODate();
        expect(addMonths(date, months)).toBe(expected);
      }),
    );
  });

  it('which days there are', () => {
    for (const year of ['1900', '2000', '2024', '2026']) {
      for (const month of ['00', '01', '02', '04', '12', '13']) {
        for (const date of ['00', '01', '28', '29', '30', '31', '32']) {
          const text = `${year}-${month}-${date}`;
          expect(dateOf(text, 'It').ok, text).toBe(DateTime.fromISO(text).isValid);
        }
      }
    }
  });

  it('the day of a time with an offset is the day written', () => {
    expect(valueIn(dateOf('2026-03-01T23:30:00-05:00', 'It'))).toBe('2026-03-01');
  });
});
