import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { workCalendar } from '../../src/trade/work-calendar.ts';
import {
  afterWorkingMinutes,
  isInShift,
  workingMinutes,
  workSpans,
} from '../../src/trade/working-time.ts';
import { problemIn, valueIn } from './unwrap.ts';

const at = (text: string) => Date.parse(text);
const day = { name: 'day', from: '07:00', to: '15:30', breaks: [{ from: '12:00', to: '12:30' }] };
const night = {
  name: 'night',
  from: '22:00',
  to: '06:00',
  breaks: [{ from: '03:00', to: '03:30' }],
};
const days = valueIn(
  workCalendar({
    zone: 'Europe/London',
    week: { mon: [day], tue: [day], wed: [day], thu: [day], fri: [day] },
    daysOff: ['2026-05-25'],
  }),
);
const nights = valueIn(
  workCalendar({ zone: 'Europe/London', week: { fri: [night], sat: [night] } }),
);

describe('working minutes', () => {
  it('leave the break out', () => {
    // Monday 2026-06-01, 11:00 to 14:00 in London: 3 h less half an hour.
    const time = valueIn(
      workingMinutes(days, at('2026-06-01T11:00:00+01:00'), at('2026-06-01T14:00:00+01:00')),
    );
    expect(time).toMatchObject({ working: 150, breaks: 30, outside: 0 });
    expect(time.answer).toBe(
      '2 h 30 min of work from 2026-06-01 11:00 to 2026-06-01 14:00, by the shift calendar (Europe/London); breaks 30 min, outside shifts 0 min.',
    );
  });

  it('leave the weekend and a day off out', () => {
    // Friday 14:30 to Tuesday 08:00 over the bank holiday of 2026-05-25: 60 on Friday, 60 on Tuesday.
    const time = valueIn(
      workingMinutes(days, at('2026-05-22T14:30:00+01:00'), at('2026-05-26T08:00:00+01:00')),
    );
    expect(time.working).toBe(120);
  });

  it('of a night across the clock change are real minutes', () => {
    // 22:00 to 06:00 less the break: 7 h - 30 min in March, 9 h - 30 min in October, 8 h - 30 min otherwise.
    const ofNight = (from: string, to: string) =>
      valueIn(workingMinutes(nights, at(from), at(to))).working;
    expect(ofNight('2026-03-28T22:00:00Z', '2026-03-29T06:00:00+01:00')).toBe(390);
    expect(ofNight('2026-10-24T22:00:00+01:00', '2026-10-25T06:00:00Z')).toBe(510);
    expect(ofNight('2026-06-06T22:00:00+01:00', '2026-06-07T06:00:00+01:00')).toBe(450);
  });

  it('count once where shifts overlap, and a break that the other shift covers is work', () => {
    const two = valueIn(
      workCalendar({
        zone: 'UTC',
        week: {
          mon: [
            { name: 'early', from: '06:00', to: '14:00', breaks: [{ from: '13:30', to: '13:45' }] },
            { name: 'late', from: '13:00', to: '21:00' },
          ],
        },
      }),
    );
    // 06:00 to 21:00 is 15 h; the early break lies inside the late shift.
    const time = valueIn(
      workingMinutes(two, at('2026-06-01T00:00:00Z'), at('2026-06-02T00:00:00Z')),
    );
    expect(time).toMatchObject({ working: 900, breaks: 0, outside: 540 });
  });

  it('of shifts that meet are one span', () => {
    const round = valueIn(
      workCalendar({
        zone: 'UTC',
        week: {
          mon: [
            { name: 'early', from: '06:00', to: '14:00' },
            { name: 'late', from: '14:00', to: '22:00' },
          ],
        },
      }),
    );
    expect(workSpans(round, at('2026-06-01T00:00:00Z'), at('2026-06-02T00:00:00Z'))).toEqual([
      { from: at('2026-06-01T06:00:00Z'), to: at('2026-06-01T22:00:00Z') },
    ]);
  });

  it('are refused the wrong way round', () => {
    expect(
      problemIn(workingMinutes(days, at('2026-06-02T00:00:00Z'), at('2026-06-01T00:00:00Z'))).what,
    ).toBe('The end 2026-06-01 01:00 is before the start 2026-06-02 01:00.');
    expect(problemIn(workingMinutes(days, Number.NaN, 0)).what).toContain('missing');
    expect(problemIn(workingMinutes(days, 0, at('2026-06-01T00:00:00Z'))).what).toContain(
      'ten years',
    );
  });
});

describe('the end of a number of working minutes', () => {
  it.each([
    ['2026-06-01T07:00:00+01:00', 300, '2026-06-01T12:00:00+01:00', 'just before the break'],
    ['2026-06-01T07:00:00+01:00', 301, '2026-06-01T12:31:00+01:00', 'after the break'],
    ['2026-06-05T15:00:00+01:00', 60, '2026-06-08T07:30:00+01:00', 'over a weekend'],
    ['2026-06-01T12:10:00+01:00', 0, '2026-06-01T12:10:00+01:00', 'none at all'],
    ['2026-05-22T15:30:00+01:00', 30, '2026-05-26T07:30:00+01:00', 'over a day off'],
  ])('from %s, %i min: %s (%s)', (from, minutes, end) => {
    expect(valueIn(afterWorkingMinutes(days, at(from), minutes)).instant).toBe(at(end));
  });

  it('runs across the clock change of a night', () => {
    // Working from 22:00 GMT: 5 h take it to 03:00 GMT, which is 04:00 BST; the break starts at 03:00 BST = 02:00 GMT,
    // so 4 h are done by then, and the fifth runs from 03:30 to 04:30 BST.
    expect(valueIn(afterWorkingMinutes(nights, at('2026-03-28T22:00:00Z'), 300)).instant).toBe(
      at('2026-03-29T04:30:00+01:00'),
    );
  });

  it('is refused where no one works', () => {
    const none = valueIn(workCalendar({ zone: 'UTC', week: {} }));
    expect(problemIn(afterWorkingMinutes(none, 0, 5)).what).toBe(
      'The calendar has less than 5 min of work in the next ten years.',
    );
    expect(problemIn(afterWorkingMinutes(days, 0, -1)).what).toContain('no time to count on');
  });
});

const start = fc
  .integer({ min: 0, max: 365 * 1440 })
  .map((minute) => at('2026-01-01T00:00:00Z') + minute * 60_000);
const calendars = fc.constantFrom(days, nights);

describe('any calendar', () => {
  it('turns minutes into an end and back', () => {
    fc.assert(
      fc.property(
        calendars,
        start,
        fc.integer({ min: 1, max: 3000 }),
        (calendar, from, minutes) => {
          const { instant } = valueIn(afterWorkingMinutes(calendar, from, minutes));
          expect(valueIn(workingMinutes(calendar, from, instant)).working).toBe(minutes);
          expect(valueIn(workingMinutes(calendar, from, instant - 60_000)).working).toBe(
            minutes - 1,
          );
        },
      ),
      { numRuns: 40 },
    );
  });

  it('divides every time into work, breaks and time off, and adds up in parts', () => {
    const length = fc.integer({ min: 0, max: 20_000 }).map((minutes) => minutes * 60_000);
    fc.assert(
      fc.property(calendars, start, length, length, (calendar, from, first, second) => {
        const time = (a: number, b: number) => valueIn(workingMinutes(calendar, a, b));
        const whole = time(from, from + first + second);
        expect(whole.working + whole.breaks + whole.outside).toBeCloseTo(
          (first + second) / 60_000,
          6,
        );
        expect(whole.breaks).toBeGreaterThanOrEqual(0);
        const parts =
          time(from, from + first).working + time(from + first, from + first + second).working;
        expect(parts).toBeCloseTo(whole.working, 6);
      }),
      { numRuns: 40 },
    );
  });

  it('agrees with asking minute by minute', () => {
    fc.assert(
      fc.property(calendars, start, (calendar, from) => {
        const to = from + 36 * 3_600_000;
        const spans = workSpans(calendar, from, to);
        let counted = 0;
        for (let minute = from; minute < to; minute += 60_000) {
          if (spans.some((span) => minute >= span.from && minute < span.to)) counted += 1;
        }
        expect(counted).toBe(valueIn(workingMinutes(calendar, from, to)).working);
      }),
      { numRuns: 20 },
    );
  });

  it('knows whether a shift runs', () => {
    expect(isInShift(days, at('2026-06-01T12:10:00+01:00'))).toBe(true);
    expect(isInShift(days, at('2026-06-01T15:30:00+01:00'))).toBe(false);
    expect(isInShift(nights, at('2026-06-07T05:59:00+01:00'))).toBe(true);
  });
});
