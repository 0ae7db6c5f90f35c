// Hours booked in words. Times are those of the wall clock in London; the arithmetic stands beside each.
import { describe, expect, it } from 'vitest';
import { calendarOf } from '../../../src/desk/calendar.ts';
import { type BookingKnown, bookingSaid } from '../../../src/desk/orders/booking-said.ts';

const ALL = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
const calendar = calendarOf({
  zone: 'Europe/London',
  shifts: [
    { name: 'early', days: [...ALL], from: '06:00', to: '14:00' },
    { name: 'late', days: [...ALL], from: '14:00', to: '22:00' },
  ],
});
const known = (more: Partial<BookingKnown> = {}): BookingKnown => ({
  at: '2026-03-10T10:00:00+00:00',
  zone: 'Europe/London',
  calendar,
  jobs: ['1042', '1043'],
  job: '1042',
  person: (name) => (name.toLowerCase() === 'nell' ? 'Nell' : undefined),
  ...more,
});
const told = (text: string, more?: Partial<BookingKnown>): string =>
  (bookingSaid(text, known(more)) ?? [])
    .map(({ note, time, quantity, job, by }) =>
      [note, time?.slice(0, 16), quantity && `${quantity.value} ${quantity.unit}`, job, by]
        .filter((part) => part !== undefined)
        .join(' '),
    )
    .join(', ');

describe('in the thread of job 1042, at 10:00', () => {
  it.each([
    ['start', 'on'],
    ['stop', 'off'],
    ['clocking on', 'on'],
    ['start at 6', 'on 2026-03-10T06:00'],
    ['clocked off at 9:30', 'off 2026-03-10T09:30'],
    ['knocking off', 'off'],
    ['on it since 7', 'on 2026-03-10T07:00'],
    ['off it at 9', 'off 2026-03-10T09:00'],
    ['on it from 7 to 9:30', 'on 2026-03-10T07:00, off 2026-03-10T09:30'],
    ['7 to 9:30 on 1042', 'on 2026-03-10T07:00, off 2026-03-10T09:30'],
    ['worked 7-9', 'on 2026-03-10T07:00, off 2026-03-10T09:00'],
    // 15:00 today is still to come at 10:00, so it was yesterday.
    ['from 7 to 3', 'on 2026-03-09T07:00, off 2026-03-09T15:00'],
    ['on it from 22 to 1', 'on 2026-03-09T22:00, off 2026-03-10T01:00'],
    ['2.5 h on 1042', 'booked 150 min'],
    ['2,5 Std auf 1042', 'booked 150 min'],
    ['2h30 on it', 'booked 150 min'],
    ['2 h 15 min on it', 'booked 135 min'],
    ['booked 2 hours', 'booked 120 min'],
    ['half an hour on it', 'booked 30 min'],
    ['an hour and a half on it', 'booked 90 min'],
    ['2.5 h on 1042 for Nell', 'booked 150 min Nell'],
    ['2 h on 1042 yesterday', 'booked 2026-03-09T12:00 120 min'],
    ['2 h on 1043', 'booked 120 min 1043'],
  ])('%s', (text, acts) => {
    expect(told(text)).toBe(acts);
  });

  it.each([
    'start job',
    'start the engine',
    'started',
    'stopped',
    'off',
    'on it',
    '2 h',
    '7 to 9',
    '30 min',
    'drained 28 L',
    'stage 2 to 90 nm',
    'torqued from 7 to 9',
    '2 h on 9999',
    'booked 14 hours on 1042',
    'did you book 2 h on 1042?',
  ])('no booking: %s', (text) => {
    expect(bookingSaid(text, known())).toBeUndefined();
  });
});

describe('at other times', () => {
  it('takes the afternoon where the shift is in the afternoon', () => {
    expect(told('on it from 1 to 3:30', { at: '2026-03-10T16:00:00+00:00' })).toBe(
      'on 2026-03-10T13:00, off 2026-03-10T15:30',
    );
  });

  it('keeps the morning where it was typed late', () => {
    expect(told('on it from 7 to 9', { at: '2026-03-10T21:30:00+00:00' })).toBe(
      'on 2026-03-10T07:00, off 2026-03-10T09:00',
    );
  });

  it('carries the offset of the day of a clock change: 00:30 GMT to 03:30 BST are 2 hours', () => {
    const acts = bookingSaid('on it from 0:30 to 3:30', known({ at: '2025-03-30T05:00:00+01:00' }));
    expect(acts?.map(({ time }) => time)).toEqual([
      '2025-03-30T00:30:00+00:00',
      '2025-03-30T03:30:00+01:00',
    ]);
  });
});

describe('in the channel', () => {
  const { job: _, ...channel } = known();
  it('wants the job named', () => {
    expect(bookingSaid('2.5 h on 1042', channel)?.[0]).toMatchObject({ job: '1042' });
    expect(bookingSaid('start 1042', channel)?.[0]).toMatchObject({ note: 'on', job: '1042' });
    expect(bookingSaid('start', channel)).toBeUndefined();
    expect(bookingSaid('2.5 h on it', channel)).toBeUndefined();
  });
});
