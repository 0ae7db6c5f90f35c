import type { OtherAct } from '../facts/collect.ts';
import { inUnit } from '../facts/measure.ts';
import { saidTime } from '../facts/said-time.ts';

const MINUTE = 60_000;

/** Whether a clocking ends the time on the job: going off, a break, the end of a shift. */
const endsTime = ({ act }: OtherAct): boolean =>
  /off|out|break|stop|end/iu.test(act.command ?? act.note ?? '');

/**
 * Minutes booked on the job: for each person from clocking on until clocking off, or until now; and times booked as
 * such ("2.5 h on this").
 */
export function minutesBooked(others: readonly OtherAct[], now: number): number {
  const since = new Map<string, number>();
  let minutes = 0;
  for (const clocking of others) {
    const { act, record, posted, postedIso } = clocking;
    if (act.kind !== 'clock') continue;
    const who = act.by ?? record.by;
    const booked = act.quantity && inUnit(act.quantity.value, act.quantity.unit, 'min');
    if (booked !== undefined) {
      minutes += booked;
      continue;
    }
    const at = (act.time === undefined ? undefined : saidTime(act.time, postedIso)?.at) ?? posted;
    const from = since.get(who);
    if (endsTime(clocking)) {
      if (from !== undefined) minutes += Math.max(0, at - from) / MINUTE;
      since.delete(who);
    } else if (from === undefined) since.set(who, at);
  }
  for (const from of since.values()) minutes += Math.max(0, now - from) / MINUTE;
  return minutes;
}
