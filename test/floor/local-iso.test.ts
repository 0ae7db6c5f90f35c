// The workshop's own time of day in the record, put together quickly and read by luxon alike.
import { DateTime } from 'luxon';
import { expect, it } from 'vitest';
import { localIso } from '../../src/floor/local-iso.ts';

it.each([
  ['2026-01-10T07:30:00.000Z', 'Europe/London', '2026-01-10T07:30:00.000+00:00'],
  ['2026-07-10T07:30:00.250Z', 'Europe/London', '2026-07-10T08:30:00.250+01:00'],
  ['2026-07-10T02:30:00.000Z', 'America/St_Johns', '2026-07-10T00:00:00.000-02:30'],
  ['2026-07-10T20:00:00.000Z', 'Asia/Kathmandu', '2026-07-11T01:45:00.000+05:45'],
  // Other forms of the same: read by luxon.
  ['2026-07-10T07:30:00+01:00', 'Europe/London', '2026-07-10T07:30:00.000+01:00'],
  ['2026-07-10', 'Europe/London', '2026-07-10T00:00:00.000+01:00'],
  // No times: as they are. The thirtieth of February would be the second of March for a careless reader.
  ['2026-02-30T00:00:00.000Z', 'Europe/London', '2026-02-30T00:00:00.000Z'],
  ['soon', 'Europe/London', 'soon'],
])('%s in %s is %s', (iso, zone, local) => {
  expect(localIso(iso, zone)).toBe(local);
});

it('says what luxon says through a night of a clock change', () => {
  for (let minute = 0; minute < 240; minute += 1) {
    const iso = new Date(Date.parse('2026-10-24T23:00:00Z') + minute * 60_000).toISOString();
    expect(localIso(iso, 'Europe/London')).toBe(
      DateTime.fromISO(iso, { zone: 'Europe/London' }).toISO(),
    );
  }
});
