import { describe, expect, it } from 'vitest';
import { forecastFinish } from '../../src/trade/finish-forecast.ts';
import { workCalendar } from '../../src/trade/work-calendar.ts';
import { problemIn, valueIn } from './unwrap.ts';

const day = { name: 'day', from: '07:00', to: '15:30', breaks: [{ from: '12:00', to: '12:30' }] };
const calendar = valueIn(workCalendar({ zone: 'Europe/London', week: { mon: [day], tue: [day] } }));
const at = (text: string) => Date.parse(`${text}:00+01:00`);
const left = [
  { id: 'fit', time: { o: 60, m: 120, p: 180 }, after: [] },
  { id: 'fill', time: { o: 60, m: 60, p: 60 }, after: [] },
  { id: 'prove', time: 120, after: ['fit', 'fill'] },
];

describe('the forecast of the finish', () => {
  it('with one person is the sum, laid on the calendar', () => {
    // 120 + 60 + 120 = 300 expected. Monday 10:00: 2 h to the break, 3 h to 15:30, none left: 15:30.
    const forecast = valueIn(
      forecastFinish({ calendar, from: at('2026-06-01T10:00'), left, hands: 1, likelihood: 0.5 }),
    );
    expect(forecast.expected).toBe(at('2026-06-01T15:30'));
    // Half is likely by the expected time itself; the curve is met to less than a second.
    expect(Math.abs(forecast.likely - forecast.expected)).toBeLessThan(1000);
  });

  it('with more hands is the longest chain', () => {
    // 120 + 120 = 240 from 10:00: 2 h, the break, 2 h: 14:30. At 97.725 % two deviations more: (180 - 60)/6 = 20, so
    // 40 min: 15:10.
    const forecast = valueIn(
      forecastFinish({
        calendar,
        from: at('2026-06-01T10:00'),
        left,
        hands: 'as needed',
        likelihood: 0.97725,
      }),
    );
    expect(forecast.expected).toBe(at('2026-06-01T14:30'));
    expect(Math.abs(forecast.likely - at('2026-06-01T15:10'))).toBeLessThan(5000);
    expect(forecast.answer).toBe(
      '2026-06-01 14:30 expected, 98 % likely by 2026-06-01 15:10; 3 steps left, as many hands as the order allows, three-point times on the shift calendar. Waiting for parts is not in it.',
    );
  });

  it('is refused with an odd likelihood, or nothing left', () => {
    const given = { calendar, from: at('2026-06-01T10:00'), hands: 1 } as const;
    expect(problemIn(forecastFinish({ ...given, left, likelihood: 1 })).what).toContain(
      '0.5 and 0.99',
    );
    expect(problemIn(forecastFinish({ ...given, left: [] })).what).toBe(
      'There is nothing to schedule.',
    );
  });
});
