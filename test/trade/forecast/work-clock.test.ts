import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { workClock } from '../../../src/trade/forecast/work-clock.ts';
import { workCalendar } from '../../../src/trade/work-calendar.ts';
import { afterWorkingMinutes, workingMinutes } from '../../../src/trade/working-time.ts';
import { valueIn } from '../unwrap.ts';

const early = {
  name: 'early',
  from: '06:00',
  to: '14:00',
  breaks: [{ from: '10:00', to: '10:20' }],
};
const night = { name: 'night', from: '22:00', to: '05:00' };
const calendar = valueIn(
  workCalendar({
    zone: 'Europe/London',
    week: { mon: [early], tue: [early, night], wed: [early], thu: [early], sat: [night] },
    daysOff: ['2026-04-06'],
  }),
);
/** A Monday; the clocks go forward on the 29th. */
const START = Date.parse('2026-03-23T00:00:00Z');
const clock = workClock(calendar, START);

describe('the quick working clock', () => {
  it('counts as the slow one does, across nights, days off and the change of the clocks', () => {
    const span = fc.integer({ min: 0, max: 40 * 24 * 60 });
    fc.assert(
      fc.property(span, span, (a, b) => {
        const from = START + Math.min(a, b) * 60_000;
        const to = START + Math.max(a, b) * 60_000;
        expect(clock.between(from, to)).toBeCloseTo(
          valueIn(workingMinutes(calendar, from, to)).working,
          6,
        );
        const minutes = Math.max(1, Math.abs(a - b) / 7);
        expect(clock.after(from, minutes)).toBeCloseTo(
          valueIn(afterWorkingMinutes(calendar, from, minutes)).instant,
          3,
        );
      }),
      { numRuns: 60 },
    );
  });

  it('knows when work goes on', () => {
    expect(clock.next(Date.parse('2026-03-23T05:00:00Z'))).toBe(Date.parse('2026-03-23T06:00:00Z'));
    expect(clock.next(Date.parse('2026-03-23T10:05:00Z'))).toBe(Date.parse('2026-03-23T10:20:00Z'));
    // Friday and Sunday have no shift: from Thursday afternoon on to Saturday night.
    expect(clock.next(Date.parse('2026-03-26T15:00:00Z'))).toBe(Date.parse('2026-03-28T22:00:00Z'));
  });

  it('has no answer where nobody ever works', () => {
    const idle = workClock(valueIn(workCalendar({ zone: 'UTC', week: {} })), START);
    expect(idle.after(START, 10)).toBeNaN();
    expect(idle.next(START)).toBeNaN();
    expect(idle.between(START, START + 86_400_000)).toBe(0);
  });
});
