// Wording of the record: figures with their unit, limits, times in the zone of the workshop.
import { DateTime } from 'luxon';
import type { Measured, RecordLimit } from '../../shared/record.ts';
import { formatFigure, formatQuantity, isUnit } from '../trade/units.ts';

/** "45 N·m", "about 28 L", "0.28 to 0.30 mm". A unit the units table does not know is shown as it is written. */
export const figureWords = ({ value, unit, low, high, approx }: Measured): string => {
  const about = approx ? 'about ' : '';
  if (low !== undefined && high !== undefined)
    return `${about}${formatFigure(low)} to ${amount(high, unit)}`;
  return `${about}${amount(value, unit)}`;
};

const amount = (value: number, unit: string): string =>
  isUnit(unit) ? formatQuantity(value, unit) : `${formatFigure(value)} ${unit}`;

/** "18 to 22 N·m", "at most 5 bar"; "" where there is no limit. */
export const limitWords = (limit: Omit<RecordLimit, 'source'> | null): string => {
  if (!limit) return '';
  const { min, max, unit } = limit;
  if (min !== undefined && max !== undefined) return `${formatFigure(min)} to ${amount(max, unit)}`;
  if (min !== undefined) return `at least ${amount(min, unit)}`;
  if (max !== undefined) return `at most ${amount(max, unit)}`;
  return '';
};

/** "yes", "NO", and for a figure that can be compared with nothing "not compared". */
export const withinWords = (within: boolean | null): string =>
  within === null ? 'not compared' : within ? 'yes' : 'NO';

/** "10 Mar 2026 06:14" on the clocks of the workshop; the text itself where it is no time. */
export const dayAndTime = (iso: string, zone: string): string => {
  const at = DateTime.fromISO(iso, { zone });
  return at.isValid ? at.setLocale('en').toFormat('d LLL yyyy HH:mm') : iso;
};

/** "10 Mar 06:14". */
export const shortTime = (iso: string, zone: string): string => {
  const at = DateTime.fromISO(iso, { zone });
  return at.isValid ? at.setLocale('en').toFormat('d LLL HH:mm') : iso;
};

/** Title with its position: "Fit the injector, cylinder 3". */
export const placeWords = (place: {
  readonly title: string;
  readonly position: string | null;
}): string => (place.position === null ? place.title : `${place.title}, ${place.position}`);
