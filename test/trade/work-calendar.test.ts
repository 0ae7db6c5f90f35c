import { describe, expect, it } from 'vitest';
import { onlyShift, shiftsOn, unclearTimes, workCalendar } from '../../src/trade/work-calendar.ts';
import { problemIn, valueIn } from './unwrap.ts';

const at = (text: string) => Date.parse(text);
const night = {
  name: 'night',
  from: '22:00',
  to: '06:00',
  breaks: [{ from: '02:00', to: '02:30' }],
};
const day = { name: 'day', from: '07:00', to: '15:30', breaks: [{ from: '12:00', to: '12:30' }] };

describe('a shift calendar', () => {
  const calendar = valueIn(
    workCalendar({
      zone: 'Europe/London',
      week: { mon: [day], sat: [night] },
      daysOff: ['2026-06-08'],
      otherDays: { '2026-06-07': [{ name: 'short', from: '08:00', to: '12:00' }] },
    }),
  );

  it('gives a shift as real instants, with its breaks', () => {
    // 2026-06-01 is a Monday; London is one hour before UTC.
    expect(shiftsOn(calendar, '2026-06-01')).toEqual([
      {
        name: 'day',
        date: '2026-06-01',
        from: at('2026-06-01T06:00:00Z'),
        to: at('2026-06-01T14:30:00Z'),
        breaks: [{ from: at('2026-06-01T11:00:00Z'), to: at('2026-06-01T11:30:00Z') }],
      },
    ]);
  });

  it('has days off, and days with hours of their own', () => {
    expect(shiftsOn(calendar, '2026-06-02')).toEqual([]);
    expect(shiftsOn(calendar, '2026-06-08')).toEqual([]);
    expect(shiftsOn(calendar, '2026-06-07').map((shift) => shift.name)).toEqual(['short']);
  });

  it('runs a night across the clock change: 7 real hours in March, 9 in October', () => {
    const hours = (date: string) =>
      shiftsOn(calendar, date).map((s) => (s.to - s.from) / 3_600_000);
    expect(hours('2026-03-28')).toEqual([7]);
    expect(hours('2026-10-24')).toEqual([9]);
    expect(hours('2026-06-06')).toEqual([8]);
  });

  it('keeps one shift only, when asked', () => {
    expect(shiftsOn(onlyShift(calendar, 'night'), '2026-06-01')).toEqual([]);
    expect(shiftsOn(onlyShift(calendar, 'night'), '2026-06-06')).toHaveLength(1);
  });

  it('names the times that the clocks leave out or show twice', () => {
    const early = valueIn(
      workCalendar({
        zone: 'Europe/London',
        week: {
          sat: [{ name: 'late', from: '17:00', to: '01:30' }],
          sun: [{ name: 'early', from: '01:30', to: '09:00' }],
        },
      }),
    );
    expect(unclearTimes(early, '2026-03-28')).toEqual([
      {
        date: '2026-03-28',
        shift: 'late',
        time: '01:30',
        certainty: 'missing',
        taken: at('2026-03-29T01:00:00Z'),
      },
    ]);
    expect(unclearTimes(early, '2026-10-24')).toMatchObject([
      { shift: 'late', time: '01:30', certainty: 'twice' },
    ]);
    expect(unclearTimes(early, '2026-06-06')).toEqual([]);
    // Shifts that meet at an unclear time still meet.
    for (const [saturday, sunday] of [
      ['2026-03-28', '2026-03-29'],
      ['2026-10-24', '2026-10-25'],
    ] as const) {
      expect(shiftsOn(early, saturday)[0]?.to).toBe(shiftsOn(early, sunday)[0]?.from);
    }
  });

  it('leaves out a shift that lies wholly in the missing hour', () => {
    const gone = valueIn(
      workCalendar({
        zone: 'Europe/London',
        week: { sun: [{ name: 'x', from: '01:10', to: '01:50' }] },
      }),
    );
    expect(shiftsOn(gone, '2026-03-29')).toEqual([]);
    expect(shiftsOn(gone, '2026-04-05')).toHaveLength(1);
  });

  it.each([
    [{ zone: 'Europe/Atlantis', week: {} }, '"Europe/Atlantis" is no time zone that is known.'],
    [
      { zone: 'UTC', week: { mon: [{ ...day, to: '3pm' }] } },
      '"3pm" in shift "day" is not a time.',
    ],
    [{ zone: 'UTC', week: {}, daysOff: ['2026-02-30'] }, '"2026-02-30" is not a date.'],
    [
      { zone: 'UTC', week: { mon: [{ ...day, breaks: [{ from: '16:00', to: '16:30' }] }] } },
      'The break 16:00 to 16:30 does not lie in shift "day" (07:00 to 15:30).',
    ],
  ])('refuses %j', (description, what) => {
    expect(problemIn(workCalendar(description)).what).toBe(what);
  });
});
