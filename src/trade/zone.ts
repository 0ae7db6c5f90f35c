/**
 * Time zones whose offsets are remembered. Asking the time zone database costs more than all else that is done with a
 * time, and the answer hardly ever changes within an hour.
 */
import { IANAZone } from 'luxon';

const HOUR = 3_600_000;
/** Hours remembered of a zone: more than a year of them. */
const MOST_HOURS = 10_000;

/** luxon's zone with a memory; its answers are the same. */
class SteadyZone extends IANAZone {
  readonly #hours = new Map<number, number | undefined>();

  /** @returns minutes ahead of UTC; NaN in a zone that does not exist */
  override offset(instant: number): number {
    const hour = Math.floor(instant / HOUR);
    let offset = this.#hours.get(hour);
    if (offset === undefined && !this.#hours.has(hour)) {
      const first = super.offset(hour * HOUR);
      // No zone has changed twice within an hour: where both ends agree, all between them does.
      offset = first === super.offset((hour + 1) * HOUR) ? first : undefined;
      if (this.#hours.size >= MOST_HOURS) this.#hours.clear();
      this.#hours.set(hour, offset);
    }
    return offset ?? super.offset(instant);
  }
}

const zones = new Map<string, IANAZone>();

/**
 * The zone of a name such as "Europe/London", the same object each time.
 * @returns a zone that is not valid, as luxon's, where there is none of that name
 */
export const zoneNamed = (name: string): IANAZone => {
  const known = zones.get(name);
  if (known) return known;
  const zone = new SteadyZone(name);
  // A setting holds one name; names that come from elsewhere are not kept without bound.
  if (zones.size < 100) zones.set(name, zone);
  return zone;
};
