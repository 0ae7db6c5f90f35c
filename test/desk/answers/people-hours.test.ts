// Hours of people: clocked and booked, breaks off, across a clock change, with what is to be settled first.
import { describe, expect, it } from 'vitest';
import type { Settings } from '../../../shared/settings.ts';
import { peopleHours, peopleHoursCard } from '../../../src/desk/answers/people-hours.ts';
import { spanOf, weekOf } from '../../../src/desk/asking/span.ts';
import { calendarOf } from '../../../src/desk/calendar.ts';
import type { Clocking } from '../../../src/job/view.ts';

const ALL = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
const settings: Settings = {
  workshop: 'Hours',
  zone: 'Europe/London',
  people: [{ name: 'Ada', roles: ['technician'] }],
  shifts: [
    {
      name: 'early',
      days: [...ALL],
      from: '06:00',
      to: '14:00',
      breaks: [{ name: 'tea', from: '10:00', to: '10:20' }],
    },
    { name: 'night', days: [...ALL], from: '22:00', to: '06:00' },
  ],
};
const calendar = calendarOf(settings);

let count = 0;
const clocking = (who: string, at: string, kind: Clocking['kind'], minutes?: number): Clocking => {
  count += 1;
  return {
    message: `m${count}`,
    who,
    at,
    instant: Date.parse(at),
    kind,
    ...(minutes === undefined ? {} : { minutes }),
  };
};
const job = (name: string, ...clockings: readonly Clocking[]) => ({ job: name, clockings });
const hours = (
  jobs: readonly ReturnType<typeof job>[],
  span: { from: number; to: number },
  now: string,
) => peopleHours(jobs, settings, calendar, span, Date.parse(now));
const today = (now: string) => spanOf('today', Date.parse(now), 'Europe/London');

describe('peopleHours', () => {
  it('takes the break off, adds what was booked, and tells the jobs apart', () => {
    const now = '2026-03-10T13:00:00Z';
    const { people, questions } = hours(
      [
        // 09:00 to 11:00 less 20 minutes of tea: 100 minutes.
        job(
          '1042',
          clocking('Ada', '2026-03-10T09:00:00Z', 'on'),
          clocking('Ada', '2026-03-10T11:00:00Z', 'off'),
        ),
        job('1043', clocking('Ada', '2026-03-10T12:00:00Z', 'booked', 90)),
      ],
      today(now),
      now,
    );
    expect(people).toEqual([
      {
        who: 'Ada',
        minutes: 190,
        jobs: [
          ['1042', 100],
          ['1043', 90],
        ],
        stillOn: [],
      },
    ]);
    expect(questions).toEqual([]);
  });

  it('counts who is still on until now', () => {
    const now = '2026-03-10T09:45:00Z';
    const { people } = hours(
      [job('1042', clocking('Ada', '2026-03-10T09:00:00Z', 'on'))],
      today(now),
      now,
    );
    expect(people[0]).toMatchObject({ minutes: 45, stillOn: ['1042'] });
  });

  it('asks about a forgotten clock-off and counts nothing for it', () => {
    // The shift ended at 14:00; at 16:00 nobody knows when the work stopped.
    const now = '2026-03-10T16:00:00Z';
    const { people, questions } = hours(
      [job('1042', clocking('Ada', '2026-03-10T09:00:00Z', 'on'))],
      today(now),
      now,
    );
    expect(people).toEqual([]);
    expect(questions[0]).toContain('Ada clocked on to job 1042');
  });

  it('asks about one person on two jobs at once', () => {
    const now = '2026-03-10T09:45:00Z';
    const { questions } = hours(
      [
        job('1042', clocking('Ada', '2026-03-10T09:00:00Z', 'on')),
        job('1043', clocking('Ada', '2026-03-10T09:30:00Z', 'on')),
      ],
      today(now),
      now,
    );
    expect(questions.join()).toContain('15 min on both');
  });

  it('counts a night of the clock change as long as it was: 22:00 to 06:00 are 7 hours in March, 9 in October', () => {
    const night = (on: string, off: string, now: string): number | undefined =>
      hours(
        [job('1042', clocking('Ada', on, 'on'), clocking('Ada', off, 'off'))],
        weekOf(
          calendar?.zone ??
            (() => {
              throw new Error('no calendar');
            })(),
          now.slice(0, 10),
        ),
        now,
      ).people[0]?.minutes;
    expect(night('2025-03-29T22:00:00Z', '2025-03-30T05:00:00Z', '2025-03-30T08:00:00Z')).toBe(
      7 * 60,
    );
    expect(night('2025-10-25T21:00:00Z', '2025-10-26T06:00:00Z', '2025-10-26T08:00:00Z')).toBe(
      9 * 60,
    );
  });

  it('leaves out what began outside the days asked for', () => {
    const now = '2026-03-11T07:00:00Z';
    expect(
      hours([job('1042', clocking('Ada', '2026-03-10T12:00:00Z', 'booked', 90))], today(now), now)
        .people,
    ).toEqual([]);
  });
});

describe('the card', () => {
  it('says how hours get booked where there are none', () => {
    const { text } = peopleHoursCard('Hours today', { people: [], questions: [] }, undefined);
    expect(text).toContain('nothing booked');
    expect(text).toContain('"2.5 h on 1042"');
  });

  it('shows one person only where one is asked for', () => {
    const both = {
      people: [
        { who: 'Ada', minutes: 60, jobs: [['1', 60] as const], stillOn: [] },
        { who: 'Mo', minutes: 30, jobs: [['1', 30] as const], stillOn: ['1'] },
      ],
      questions: ['Ada clocked on to job 2 and has no clock-off.'],
    };
    const { text } = peopleHoursCard('Hours of Mo today', both, 'Mo');
    expect(text).toContain('Mo: 30 min (30 min on 1, still on it)');
    expect(text).not.toContain('Ada');
  });
});
