// Stretches of days as the workshop's clock has them, as real instants: right on days of 23 and 25 hours.
import type { Zone } from 'luxon';
import { addDays, clockReading, localDate } from '../../trade/local-time.ts';
import { zoneNamed } from '../../trade/zone.ts';
import type { Span as Asked } from './asked.ts';

export type Between = {
  /** Milliseconds; the end is not part of it. */
  readonly from: number;
  readonly to: number;
  /** First and last date, "2026-03-09". */
  readonly first: string;
  readonly last: string;
};

const midnight = (zone: Zone, date: string): number => clockReading(zone, date, 0).instant;

/** Monday is 0. */
const weekdayOf = (date: string): number => (new Date(`${date}T00:00:00Z`).getUTCDay() + 6) % 7;

const between = (zone: Zone, first: string, last: string): Between => ({
  from: midnight(zone, first),
  to: midnight(zone, addDays(last, 1)),
  first,
  last,
});

/** The week, Monday to Sunday, in which a date lies. */
export const weekOf = (zone: Zone, date: string): Between => {
  const monday = addDays(date, -weekdayOf(date));
  return between(zone, monday, addDays(monday, 6));
};

/** @param now milliseconds */
export const spanOf = (asked: Asked, now: number, zoneName: string): Between => {
  const zone = zoneNamed(zoneName);
  const today = localDate(zone, now);
  switch (asked) {
    case 'today':
      return between(zone, today, today);
    case 'yesterday':
      return between(zone, addDays(today, -1), addDays(today, -1));
    case 'this-week':
      return weekOf(zone, today);
    case 'last-week':
      return weekOf(zone, addDays(today, -7));
  }
};
