import { describe, expect, it } from 'vitest';
import { bookLabour, type ClockEntry, labourTotal } from '../../src/trade/labour.ts';
import { workCalendar } from '../../src/trade/work-calendar.ts';
import { valueIn } from './unwrap.ts';

// Harrow Lane, a Monday in June; London is one hour before UTC.
const calendar = valueIn(
  workCalendar({
    zone: 'Europe/London',
    week: {
      mon: [{ name: 'day', from: '07:00', to: '15:30', breaks: [{ from: '12:00', to: '12:30' }] }],
      sat: [{ name: 'night', from: '22:00', to: '06:00' }],
    },
  }),
);
const at = (time: string, date = '2026-06-01') => Date.parse(`${date}T${time}:00+01:00`);
const clock = (who: string, kind: 'on' | 'off', time: string, job = '1042'): ClockEntry => ({
  who,
  kind,
  job,
  at: at(time),
});

describe('hours on a job', () => {
  it('leave the break out and add up over people', () => {
    const book = bookLabour(
      [
        clock('Jo', 'on', '07:00'),
        clock('Jo', 'off', '13:00'),
        clock('Sam', 'on', '09:00'),
        clock('Sam', 'off', '10:00'),
      ],
      calendar,
      at('14:00'),
    );
    expect(book.questions).toEqual([]);
    const total = labourTotal(book, '1042', 420);
    // Jo: 6 h less the half hour = 330. Sam: 60. Together 390, of 420 planned. Someone there from 07:00 to 13:00.
    expect(total.booked).toBe(390);
    expect(total.manned).toBe(360);
    expect(Object.fromEntries(total.byPerson)).toEqual({ Jo: 330, Sam: 60 });
    expect(total.over).toBe(-30);
    expect(total.answer).toBe(
      '6 h 30 min booked on job 1042 by 2 people, 7 h planned, 30 min left; breaks taken off.',
    );
  });

  it('do not depend on the order of arrival', () => {
    const entries = [
      clock('Jo', 'on', '07:00'),
      clock('Jo', 'off', '09:00'),
      clock('Jo', 'on', '09:00', '1043'),
      clock('Jo', 'off', '10:00', '1043'),
    ];
    const forward = bookLabour(entries, calendar, at('14:00'));
    expect(bookLabour(entries.toReversed(), calendar, at('14:00'))).toEqual(forward);
    expect(forward.questions).toEqual([]);
    expect(forward.bookings.map((b) => b.minutes)).toEqual([120, 60]);
  });

  it('may stop and start again on one job in the same minute', () => {
    const entries = [
      clock('Jo', 'on', '07:00'),
      clock('Jo', 'on', '09:00'),
      clock('Jo', 'off', '09:00'),
      clock('Jo', 'off', '10:00'),
    ];
    const book = bookLabour(entries, calendar, at('11:00'));
    expect(book.questions).toEqual([]);
    expect(book.bookings.map((b) => b.minutes)).toEqual([120, 60]);
  });

  it('outside the shift are counted and named', () => {
    const book = bookLabour(
      [clock('Jo', 'on', '15:00'), clock('Jo', 'off', '17:00')],
      calendar,
      at('18:00'),
    );
    expect(book.bookings[0]).toMatchObject({ minutes: 120, outsideShift: 90 });
  });

  it('across the clock change are real hours', () => {
    // 22:00 GMT to 06:00 BST is 7 h.
    const entries: ClockEntry[] = [
      { who: 'Jo', job: '7', kind: 'on', at: Date.parse('2026-03-28T22:00:00Z') },
      { who: 'Jo', job: '7', kind: 'off', at: Date.parse('2026-03-29T06:00:00+01:00') },
    ];
    const book = bookLabour(entries, calendar, Date.parse('2026-03-29T07:00:00+01:00'));
    expect(book.bookings[0]?.minutes).toBe(420);
  });

  it('still running are open, not counted, and named', () => {
    const book = bookLabour([clock('Jo', 'on', '07:00')], calendar, at('15:45'));
    expect(book.open).toEqual([{ who: 'Jo', job: '1042', from: at('07:00') }]);
    expect(book.questions).toEqual([]);
    expect(labourTotal(book, '1042').answer).toBe(
      '0 min booked on job 1042 by 0 people, no time planned; breaks taken off, 1 still clocked on and not counted.',
    );
  });
});

describe('what is asked, not guessed', () => {
  it('a clock-off that is missing when the shift is over', () => {
    const book = bookLabour([clock('Jo', 'on', '06:50')], calendar, at('16:01'));
    expect(book.open).toEqual([]);
    expect(book.bookings).toEqual([]);
    expect(book.questions.map((q) => q.asks)).toEqual([
      'Jo clocked on to job 1042 at 2026-06-01 06:50 and has no clock-off; the shift ended at 2026-06-01 15:30. When did that work stop? It is not counted until then.',
    ]);
  });

  it('a clock-off that is missing on a day without a shift, after 13 hours', () => {
    const on = { ...clock('Jo', 'on', '08:00'), at: at('08:00', '2026-06-03') };
    const asked = (time: string) =>
      bookLabour([on], calendar, at(time, '2026-06-03')).questions.map((q) => q.kind);
    expect(asked('21:00')).toEqual([]);
    expect(asked('21:01')).toEqual(['no-clock-off']);
  });

  it('a clock-off that comes the next morning', () => {
    const next = { ...clock('Jo', 'off', '07:05'), at: at('07:05', '2026-06-02') };
    const book = bookLabour(
      [clock('Jo', 'on', '07:00'), next],
      calendar,
      at('08:00', '2026-06-02'),
    );
    expect(book.bookings).toEqual([]);
    expect(book.questions[0]).toMatchObject({ kind: 'no-clock-off', at: at('07:00') });
    expect(book.questions[0]?.asks).toContain('off only at 2026-06-02 07:05, 24 h 5 min later');
  });

  it('a second clock-on to the same job', () => {
    const book = bookLabour(
      [clock('Jo', 'on', '07:00'), clock('Jo', 'on', '10:00'), clock('Jo', 'off', '11:00')],
      calendar,
      at('12:00'),
    );
    expect(book.bookings.map((b) => b.minutes)).toEqual([60]);
    expect(book.questions.map((q) => q.kind)).toEqual(['no-clock-off']);
    expect(labourTotal(book, '1042', 60).answer).toContain('1 to be settled first');
  });

  it('a clock-off without a clock-on', () => {
    const book = bookLabour([clock('Jo', 'off', '11:00')], calendar, at('12:00'));
    expect(book.questions.map((q) => [q.kind, q.at])).toEqual([['no-clock-on', at('11:00')]]);
  });

  it('one person on two jobs, finished or not', () => {
    const book = bookLabour(
      [
        clock('Jo', 'on', '07:00'),
        clock('Jo', 'on', '09:00', '1043'),
        clock('Jo', 'off', '10:00', '1043'),
        clock('Sam', 'on', '09:00', '1043'),
      ],
      calendar,
      at('11:00'),
    );
    expect(book.questions.map((q) => [q.kind, q.who, q.at])).toEqual([
      ['overlap', 'Jo', at('09:00')],
    ]);
    expect(book.questions[0]?.asks).toBe(
      'Jo is on job 1042 since 2026-06-01 07:00 and on job 1043 since 2026-06-01 09:00, 1 h on both. Did job 1042 stop then?',
    );
  });
});
