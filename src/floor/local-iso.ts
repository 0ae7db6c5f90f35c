// Times as the workshop's clock shows them.
import { DateTime } from 'luxon';
import { zoneNamed } from '../trade/zone.ts';

const two = (number: number): string => String(number).padStart(2, '0');

/** The same instant with the offset that the zone has then; the text as it is where it is no time. */
export const localIso = (iso: string, zone: string): string => {
  const inZone = zoneNamed(zone);
  const instant = Date.parse(iso);
  const offset = inZone.offset(instant);
  // The form that platforms and our own clock give, UTC to the millisecond, is put together here; luxon reads any other.
  if (!Number.isInteger(offset) || new Date(instant).toISOString() !== iso)
    return DateTime.fromISO(iso, { zone: inZone }).toISO() ?? iso;
  const shown = new Date(instant + offset * 60_000).toISOString().slice(0, -1);
  const size = Math.abs(offset);
  return `${shown}${offset < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
};
