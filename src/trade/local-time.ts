/**
 * What a wall clock shows, and when: across clock changes one local time may not exist, or exist twice.
 *
 * The time zone's offsets come from luxon's zone (the rules are the IANA time zone database). luxon's own way of making
 * a date moves a time that does not exist silently forward, picks one of two for a time that exists twice, and lets
 * today's offset decide which; so the instants are found here from the offsets alone.
 */
import type { Zone } from 'luxon';

const MINUTE = 60_000;
const DAY = 86_400_000;

/** The instants, in milliseconds since 1970 UTC and rising, at which the zone's clocks show a date and time: 0, 1 or 2. */
export function instantsAt(zone: Zone, date: string, minuteOfDay: number): readonly number[] {
  const asIfUtc = Date.parse(`${date}T00:00:00Z`) + minuteOfDay * MINUTE;
  // No zone is more than 15 hours from UTC, so the offsets in force around the time are among these.
  const offsets = new Set([-DAY, 0, DAY].map((around) => zone.offset(asIfUtc + around)));
  return [...offsets]
    .map((offset) => asIfUtc - offset * MINUTE)
    .filter((instant) => instant + zone.offset(instant) * MINUTE === asIfUtc)
    .sort((a, b) => a - b);
}

export type ClockReading = {
  /** The instant taken, milliseconds since 1970 UTC. */
  readonly instant: number;
  /** `missing`: the clocks jumped over it, the jump is taken. `twice`: it came twice, the first is taken. */
  readonly certainty: 'once' | 'missing' | 'twice';
};

/**
 * The one instant that stands for a local time: itself; the first of two; the jump where the clocks left it out.
 * The same local time always gives the same instant, so shifts that meet never overlap or leave a gap.
 */
export function clockReading(zone: Zone, date: string, minuteOfDay: number): ClockReading {
  const [first, second] = instantsAt(zone, date, minuteOfDay);
  if (first !== undefined)
    return { instant: first, certainty: second === undefined ? 'once' : 'twice' };
  const asIfUtc = Date.parse(`${date}T00:00:00Z`) + minuteOfDay * MINUTE;
  // Before the jump the clocks show less than the missing time, after it more; the jump lies where that changes.
  let before = asIfUtc - 2 * DAY;
  let after = asIfUtc + 2 * DAY;
  while (after - before > 1) {
    const middle = Math.floor((before + after) / 2);
    if (middle + zone.offset(middle) * MINUTE < asIfUtc) before = middle;
    else after = middle;
  }
  return { instant: after, certainty: 'missing' };
}

/** The date that the zone's clocks show at an instant: "2026-03-29". */
export function localDate(zone: Zone, instant: number): string {
  return new Date(instant + zone.offset(instant) * MINUTE).toISOString().slice(0, 10);
}

/** The date and time that the zone's clocks show: "2026-03-29 05:30". */
export function localText(zone: Zone, instant: number): string {
  return new Date(instant + zone.offset(instant) * MINUTE)
    .toISOString()
    .slice(0, 16)
    .replace('T', ' ');
}

/** A number of days after a date, by the calendar. */
export function addDays(date: string, days: number): string {
  return new Date(Date.parse(`${date}T00:00:00Z`) + days * DAY).toISOString().slice(0, 10);
}

/** How long a date lasts in the zone, in minutes: 1440, or more or less on the day of a clock change. */
export function minutesOfDate(zone: Zone, date: string): number {
  const start = clockReading(zone, date, 0).instant;
  return (clockReading(zone, addDays(date, 1), 0).instant - start) / MINUTE;
}

/** "3 h 20 min", "45 min". Whole minutes. */
export function sayMinutes(minutes: number): string {
  const whole = Math.round(minutes);
  const hours = Math.floor(whole / 60);
  if (hours === 0) return `${whole} min`;
  return whole % 60 === 0 ? `${hours} h` : `${hours} h ${whole % 60} min`;
}
