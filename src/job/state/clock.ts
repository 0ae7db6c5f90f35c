// Hours on the job: people clock on and off it, or book a stretch of time or a number of hours in words.
import { bookLabour, type LabourBook } from '../../trade/labour.ts';
import type { WorkCalendar } from '../../trade/work-calendar.ts';
import { workingMinutes } from '../../trade/working-time.ts';
import type { OtherAct } from '../facts/collect.ts';
import { inUnit } from '../facts/measure.ts';
import { saidTime } from '../facts/said-time.ts';
import type { Clocking } from '../view.ts';

const MINUTE = 60_000;

/** Whether a clocking ends the time on the job: going off, a break, the end of a shift. */
const endsTime = ({ act }: OtherAct): boolean =>
  /off|out|break|stop|end/iu.test(act.command ?? act.note ?? '');

/** What people said about their time on this job, in posting order; what names another job is left out. */
export function clockingsOf(others: readonly OtherAct[], job: string): readonly Clocking[] {
  return others.flatMap((other): Clocking[] => {
    const { act, record, posted, postedIso } = other;
    if (act.kind !== 'clock' || (act.job !== undefined && act.job !== job)) return [];
    const said = act.time === undefined ? undefined : saidTime(act.time, postedIso);
    const common = {
      message: record.message,
      who: act.by ?? record.by,
      at: said?.iso ?? postedIso,
      instant: said?.at ?? posted,
    };
    const booked = act.quantity && inUnit(act.quantity.value, act.quantity.unit, 'min');
    if (booked !== undefined) return [{ ...common, kind: 'booked', minutes: booked }];
    return [{ ...common, kind: endsTime(other) ? 'off' : 'on' }];
  });
}

/** Clockings of one or more jobs as a labour book on a calendar; hours booked as such are not in it. */
export function labourOf(
  jobs: readonly { readonly job: string; readonly clockings: readonly Clocking[] }[],
  calendar: WorkCalendar,
  until: number,
): LabourBook {
  return bookLabour(
    jobs.flatMap(({ job, clockings }) =>
      clockings.flatMap(({ who, instant, kind }) =>
        kind === 'booked' ? [] : [{ who, job, at: instant, kind }],
      ),
    ),
    calendar,
    until,
  );
}

/**
 * Minutes booked on the job: from clocking on until clocking off, or until now; and hours booked as such.
 * With a calendar breaks are taken off, and a clock-on without its clock-off counts only until its shift is over: then
 * nobody knows when the work stopped, and it is asked rather than counted.
 */
export function minutesBooked(
  clockings: readonly Clocking[],
  now: number,
  calendar?: WorkCalendar,
): number {
  const asSuch = clockings.reduce((sum, { minutes }) => sum + (minutes ?? 0), 0);
  return asSuch + (calendar ? onCalendar(clockings, now, calendar) : byTheClock(clockings, now));
}

function onCalendar(clockings: readonly Clocking[], now: number, calendar: WorkCalendar): number {
  const book = labourOf([{ job: '', clockings }], calendar, now);
  const closed = book.bookings.reduce((sum, { minutes }) => sum + minutes, 0);
  return book.open.reduce((sum, { from }) => {
    const time = workingMinutes(calendar, from, now);
    return sum + (time.ok ? time.value.working + time.value.outside : 0);
  }, closed);
}

function byTheClock(clockings: readonly Clocking[], now: number): number {
  const since = new Map<string, number>();
  let minutes = 0;
  for (const { who, instant, kind } of clockings) {
    if (kind === 'booked') continue;
    const from = since.get(who);
    if (kind === 'off') {
      if (from !== undefined) minutes += Math.max(0, instant - from) / MINUTE;
      since.delete(who);
    } else if (from === undefined) since.set(who, instant);
  }
  for (const from of since.values()) minutes += Math.max(0, now - from) / MINUTE;
  return minutes;
}
