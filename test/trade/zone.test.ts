// A zone that remembers says what luxon's own zone says, at every minute around clock changes too.
import { DateTime, IANAZone } from 'luxon';
import { describe, expect, it } from 'vitest';
import { zoneNamed } from '../../src/trade/zone.ts';

const HOUR = 3_600_000;
/** A change in spring, one in autumn, one by half an hour, one at a quarter to the hour by UTC, and a skipped day. */
const CHANGES: readonly (readonly [zone: string, around: string])[] = [
  ['Europe/London', '2026-03-29T01:00:00Z'],
  ['Europe/London', '2026-10-25T01:00:00Z'],
  ['Australia/Lord_Howe', '2026-04-04T15:00:00Z'],
  ['Asia/Kathmandu', '1985-12-31T18:30:00Z'],
  ['Pacific/Apia', '2011-12-30T10:00:00Z'],
];

describe('a zone that remembers', () => {
  it.each(CHANGES)('%s says around %s what luxon says', (name, around) => {
    const ours = zoneNamed(name);
    const theirs = IANAZone.create(name);
    for (let at = Date.parse(around) - 3 * HOUR; at < Date.parse(around) + 3 * HOUR; at += 60_000)
      expect(ours.offset(at), new Date(at).toISOString()).toBe(theirs.offset(at));
  });

  it('changes within those hours, so the comparison has something to see', () => {
    for (const [name, around] of CHANGES) {
      const zone = zoneNamed(name);
      const at = Date.parse(around);
      expect(zone.offset(at - HOUR), name).not.toBe(zone.offset(at + HOUR));
    }
  });

  it('is one object for a name, and is asked by luxon itself', () => {
    expect(zoneNamed('Europe/London')).toBe(zoneNamed('Europe/London'));
    const summer = DateTime.fromISO('2026-07-01T12:00:00Z', { zone: zoneNamed('Europe/London') });
    expect(summer.toISO()).toBe('2026-07-01T13:00:00.000+01:00');
  });

  it('is no zone where there is none of that name', () => {
    expect(zoneNamed('Nowhere/Land').isValid).toBe(false);
    expect(zoneNamed('Nowhere/Land').offset(0)).toBeNaN();
  });
});
