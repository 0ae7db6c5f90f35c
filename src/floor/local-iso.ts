// Times as the workshop's clock shows them.
import { DateTime } from 'luxon';

/** The same instant with the offset that the zone has then; the text as it is where it is no time. */
export const localIso = (iso: string, zone: string): string =>
  DateTime.fromISO(iso, { zone }).toISO() ?? iso;
