// When shift notes are due, across the clock changes of London and Sydney. Offsets and dates of the changes: IANA time
// zone database (London 2025-03-30 and 2025-10-26 at 01:00 UTC; Sydney 2025-04-06 at 03:00 and 2025-10-05 at 02:00 local).
import { describe, expect, it } from 'vitest';
import type { Settings } from '../../../shared/settings.ts';
import { calendarIn } from '../../../src/desk/calendar.ts';
import { nextNote, notesBetween, notesDue } from '../../../src/desk/notes/due.ts';
import type { WorkCalendar } from '../../../src/trade/work-calendar.ts';

const ALL = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;

const calendarOf = (
  zone: string,
  shifts: NonNullable<Settings['shifts']>,
  daysOff: string[] = [],
): WorkCalendar => {
  const made = calendarIn({ zone, shifts, 'days-off': daysOff });
  if (!made.ok) throw new Error(made.problem.what);
  return made.value;
};

const night = { name: 'night', days: [...ALL], from: '22:00', to: '06:00' };
const early = { name: 'early', days: [...ALL], from: '06:00', to: '14:00' };
const NO_WEEK = { week: false } as const;

const told = (
  calendar: WorkCalendar,
  from: string,
  to: string,
  notes: Settings['notes'] = NO_WEEK,
): readonly string[] =>
  notesBetween(calendar, notes, Date.parse(from), Date.parse(to)).map(
    ({ key, at }) => `${new Date(at).toISOString().slice(0, 16)} ${key}`,
  );

describe('notesBetween', () => {
  it('begins and ends a night by the clock in London, 7 hours in March', () => {
    // 22:00 GMT is 22:00 UTC; 06:00 BST is 05:00 UTC.
    expect(
      told(calendarOf('Europe/London', [night]), '2025-03-29T12:00Z', '2025-03-30T12:00Z'),
    ).toEqual(['2025-03-29T22:00 start:2025-03-29:night', '2025-03-30T05:00 end:2025-03-29:night']);
  });

  it('begins and ends a night by the clock in London, 9 hours in October', () => {
    // 22:00 BST is 21:00 UTC; 06:00 GMT is 06:00 UTC.
    expect(
      told(calendarOf('Europe/London', [night]), '2025-10-25T12:00Z', '2025-10-26T12:00Z'),
    ).toEqual(['2025-10-25T21:00 start:2025-10-25:night', '2025-10-26T06:00 end:2025-10-25:night']);
  });

  it('begins and ends a night by the clock in Sydney, 9 hours in April, 7 in October', () => {
    const sydney = calendarOf('Australia/Sydney', [night]);
    // 22:00 +11 is 11:00 UTC; 06:00 +10 is 20:00 UTC the day before.
    expect(told(sydney, '2025-04-05T09:00Z', '2025-04-05T21:00Z')).toEqual([
      '2025-04-05T11:00 start:2025-04-05:night',
      '2025-04-05T20:00 end:2025-04-05:night',
    ]);
    // 22:00 +10 is 12:00 UTC; 06:00 +11 is 19:00 UTC the day before.
    expect(told(sydney, '2025-10-04T11:30Z', '2025-10-04T20:30Z')).toEqual([
      '2025-10-04T12:00 start:2025-10-04:night',
      '2025-10-04T19:00 end:2025-10-04:night',
    ]);
  });

  it('tells a start that the clocks leave out once, at the jump', () => {
    const odd = { ...early, name: 'odd', from: '01:30', to: '09:30' };
    expect(
      told(calendarOf('Europe/London', [odd]), '2025-03-29T22:00Z', '2025-03-30T08:00Z'),
    ).toEqual(['2025-03-30T01:00 start:2025-03-30:odd']);
  });

  it('tells a start that comes twice once, the first time', () => {
    const odd = { ...early, name: 'odd', from: '01:30', to: '09:30' };
    expect(
      told(calendarOf('Europe/London', [odd]), '2025-10-25T22:00Z', '2025-10-26T08:00Z'),
    ).toEqual(['2025-10-26T00:30 start:2025-10-26:odd']);
  });

  it('is silent on days off', () => {
    const off = calendarOf('Europe/London', [early], ['2026-03-10']);
    expect(told(off, '2026-03-09T20:00Z', '2026-03-10T20:00Z')).toEqual([]);
  });

  it('leaves out what the settings turn off', () => {
    const calendar = calendarOf('Europe/London', [early]);
    expect(
      told(calendar, '2026-03-10T00:00Z', '2026-03-10T20:00Z', {
        'shift-start': false,
        week: false,
      }),
    ).toEqual(['2026-03-10T14:00 end:2026-03-10:early']);
  });
});

describe('the weekly note', () => {
  const weekdays = { ...early, days: ['mon', 'tue', 'wed', 'thu', 'fri'] as const };
  const shifts = [{ ...weekdays, days: [...weekdays.days] }];
  const OFF = { 'shift-start': false, 'shift-end': false };

  it('comes with the first shift of the week and looks back on the seven days before', () => {
    // Monday 9 March 2026.
    const [note] = notesBetween(
      calendarOf('Europe/London', shifts),
      OFF,
      Date.parse('2026-03-08T00:00Z'),
      Date.parse('2026-03-12T00:00Z'),
    );
    expect(note).toMatchObject({
      key: 'week:2026-03-09',
      at: Date.parse('2026-03-09T06:00Z'),
      from: Date.parse('2026-03-02T00:00Z'),
      to: Date.parse('2026-03-09T00:00Z'),
    });
  });

  it('goes to the next day with work where Monday is off', () => {
    const off = calendarOf('Europe/London', shifts, ['2026-03-09']);
    expect(told(off, '2026-03-08T00:00Z', '2026-03-15T00:00Z', OFF)).toEqual([
      '2026-03-10T06:00 week:2026-03-09',
    ]);
  });

  it('comes at the day and hour of the settings, by the clock, on both sides of a change', () => {
    const notes = { ...OFF, week: { day: 'fri', at: '13:00' } } as const;
    // Fridays 27 March (GMT) and 3 April 2026 (BST); London changes on 29 March.
    expect(
      told(calendarOf('Europe/London', shifts), '2026-03-23T00:00Z', '2026-04-05T00:00Z', notes),
    ).toEqual(['2026-03-27T13:00 week:2026-03-23', '2026-04-03T12:00 week:2026-03-30']);
  });

  it('looks back on a week of 167 hours where the clocks go forward', () => {
    const [note] = notesBetween(
      calendarOf('Europe/London', shifts),
      OFF,
      Date.parse('2025-03-31T00:00Z'),
      Date.parse('2025-04-01T00:00Z'),
    );
    expect(((note?.to ?? 0) - (note?.from ?? 0)) / 3_600_000).toBe(7 * 24 - 1);
  });
});

describe('notesDue', () => {
  const calendar = calendarOf('Europe/London', [early]);
  const due = (since: string | undefined, now: string): readonly string[] =>
    notesDue(
      calendar,
      NO_WEEK,
      since === undefined ? undefined : Date.parse(since),
      Date.parse(now),
    ).map(({ key }) => key);

  it('gives nothing at the very first start', () => {
    expect(due(undefined, '2026-03-10T06:00Z')).toEqual([]);
  });

  it('gives a note at its minute and not again after the mark', () => {
    expect(due('2026-03-10T05:00Z', '2026-03-10T06:00Z')).toEqual(['start:2026-03-10:early']);
    expect(due('2026-03-10T06:00Z', '2026-03-10T06:00:01Z')).toEqual([]);
  });

  it('catches up on what is still worth reading', () => {
    expect(due('2026-03-09T20:00Z', '2026-03-10T08:00Z')).toEqual(['start:2026-03-10:early']);
    // Four hours and more after it began, the shift knows.
    expect(due('2026-03-09T20:00Z', '2026-03-10T10:01Z')).toEqual([]);
  });

  it('after days off the air gives the newest of each kind only', () => {
    expect(due('2026-03-05T00:00Z', '2026-03-10T15:00Z')).toEqual(['end:2026-03-10:early']);
  });

  it('knows when the next one is due', () => {
    expect(nextNote(calendar, NO_WEEK, Date.parse('2026-03-10T06:00Z'))).toBe(
      Date.parse('2026-03-10T14:00Z'),
    );
  });
});
