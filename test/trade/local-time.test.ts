import fc from 'fast-check';
import { DateTime, IANAZone, Settings } from 'luxon';
import { describe, expect, it } from 'vitest';
import {
  addDays,
  clockReading,
  instantsAt,
  localDate,
  localText,
  minutesOfDate,
  sayMinutes,
} from '../../src/trade/local-time.ts';
import { publishedFile } from './published-file.ts';

const london = IANAZone.create('Europe/London');
const iso = (instants: readonly number[]) => instants.map((ms) => new Date(ms).toISOString());

describe('a local time', () => {
  it('is one instant on an ordinary day', () => {
    expect(iso(instantsAt(london, '2026-06-01', 8 * 60))).toEqual(['2026-06-01T07:00:00.000Z']);
  });

  it('does not exist while the clocks go forward (London, 2026-03-29, 01:00 to 02:00)', () => {
    expect(instantsAt(london, '2026-03-29', 90)).toEqual([]);
    expect(clockReading(london, '2026-03-29', 90)).toEqual({
      instant: Date.parse('2026-03-29T01:00:00Z'),
      certainty: 'missing',
    });
  });

  it('comes twice when they go back (London, 2026-10-25, 01:00 to 02:00)', () => {
    expect(iso(instantsAt(london, '2026-10-25', 90))).toEqual([
      '2026-10-25T00:30:00.000Z',
      '2026-10-25T01:30:00.000Z',
    ]);
    expect(clockReading(london, '2026-10-25', 90)).toEqual({
      instant: Date.parse('2026-10-25T00:30:00Z'),
      certainty: 'twice',
    });
  });

  it('does not exist on a whole day that was left out (Apia, 2011-12-30, the move across the date line)', () => {
    const apia = IANAZone.create('Pacific/Apia');
    expect(minutesOfDate(apia, '2011-12-30')).toBe(0);
    // The clocks went from 2011-12-29 24:00 at -10 h straight to 2011-12-31 00:00 at +14 h.
    expect(new Date(clockReading(apia, '2011-12-30', 720).instant).toISOString()).toBe(
      '2011-12-30T10:00:00.000Z',
    );
  });

  it('changes by half an hour on Lord Howe', () => {
    const lordHowe = IANAZone.create('Australia/Lord_Howe');
    expect(instantsAt(lordHowe, '2026-04-05', 105)).toHaveLength(2);
    expect(instantsAt(lordHowe, '2026-04-05', 125)).toHaveLength(1);
  });

  it('does not hang on the day on which it is asked', () => {
    const before = Settings.now;
    try {
      const answers = ['2026-01-15T12:00:00Z', '2026-07-15T12:00:00Z'].map((today) => {
        Settings.now = () => Date.parse(today);
        return clockReading(london, '2026-10-25', 90).instant;
      });
      expect(answers[0]).toBe(answers[1]);
    } finally {
      Settings.now = before;
    }
  });

  it('agrees with getPossibleOffsets of luxon at every quarter of an hour around the clock changes', () => {
    for (const name of [
      'Europe/London',
      'America/New_York',
      'Australia/Lord_Howe',
      'Asia/Kathmandu',
    ]) {
      const zone = IANAZone.create(name);
      for (const date of [
        '2026-03-08',
        '2026-03-29',
        '2026-04-05',
        '2026-10-04',
        '2026-10-25',
        '2026-11-01',
      ]) {
        for (let minute = 0; minute < 1440; minute += 15) {
          const made = DateTime.fromISO(date, { zone }).set({
            hour: Math.floor(minute / 60),
            minute: minute % 60,
          });
          const shown = made.hour * 60 + made.minute === minute;
          const theirs = shown
            ? made
                .getPossibleOffsets()
                .map((d) => d.toMillis())
                .sort((a, b) => a - b)
            : [];
          expect(instantsAt(zone, date, minute), `${name} ${date} ${minute}`).toEqual(theirs);
        }
      }
    }
  });

  it('and back: every instant is one of those at the time its clock shows', () => {
    const zones = fc.constantFrom(
      'Europe/London',
      'America/New_York',
      'Australia/Sydney',
      'Pacific/Chatham',
    );
    const instants = fc
      .integer({ min: 29_000_000, max: 30_500_000 })
      .map((minute) => minute * 60_000);
    fc.assert(
      fc.property(zones, instants, (name, instant) => {
        const zone = IANAZone.create(name);
        const [date = '', time = ''] = localText(zone, instant).split(' ');
        const [hours = 0, minutes = 0] = time.split(':').map(Number);
        expect(localDate(zone, instant)).toBe(date);
        expect(instantsAt(zone, date, hours * 60 + minutes)).toContain(instant);
      }),
    );
  });
});

describe('the length of a day', () => {
  it.each([
    ['Europe/London', '2026-03-29', 23],
    ['Europe/London', '2026-10-25', 25],
    ['America/New_York', '2026-03-08', 23],
    ['America/Phoenix', '2026-03-08', 24],
    ['Australia/Lord_Howe', '2026-04-05', 24.5],
  ])('in %s on %s is %d hours (Python zoneinfo, tzdata 2026f)', (name, date, hours) => {
    expect(minutesOfDate(IANAZone.create(name), date)).toBe(hours * 60);
  });

  const file = publishedFile('clock-changes.json') as
    | {
        cases: {
          zone: string;
          start_local: string;
          start_utc: string;
          end_utc: string;
          end_local: string;
          plus_hours: number;
          plus_1_day: string;
          day_len_h: number;
        }[];
      }
    | undefined;
  it.skipIf(!file)(
    'agrees with clock-changes.json (left out where that file is not beside the checkout)',
    () => {
      expect(file?.cases.length).toBeGreaterThan(0);
      for (const row of file?.cases ?? []) {
        const zone = IANAZone.create(row.zone);
        const date = row.start_local.slice(0, 10);
        const minute =
          Number(row.start_local.slice(11, 13)) * 60 + Number(row.start_local.slice(14, 16));
        const start = clockReading(zone, date, minute);
        expect(start).toEqual({ instant: Date.parse(row.start_utc), certainty: 'once' });
        const end = start.instant + row.plus_hours * 3_600_000;
        expect(end).toBe(Date.parse(row.end_utc));
        expect(localText(zone, end)).toBe(row.end_local.slice(0, 16).replace('T', ' '));
        expect(clockReading(zone, addDays(date, 1), minute).instant).toBe(
          Date.parse(row.plus_1_day),
        );
        expect(minutesOfDate(zone, date)).toBe(row.day_len_h * 60);
      }
    },
  );
});

it.each([
  [0, '0 min'],
  [45, '45 min'],
  [60, '1 h'],
  [200, '3 h 20 min'],
  [59.6, '1 h'],
])('%d minutes are said as %s', (minutes, said) => {
  expect(sayMinutes(minutes)).toBe(said);
});
