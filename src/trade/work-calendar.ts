/**
 * A workshop's calendar: shifts for each day of the week with their breaks, days off, days with other hours.
 * A shift belongs to the day on which it starts and may run across midnight.
 *
 * On the day of a clock change a shift lasts as long as it really lasts: a night from 22:00 to 06:00 has 7 or 9 hours.
 * A break starts by the clock and keeps its length. A local time that the clocks left out, or showed twice, is settled
 * as {@link clockReading} says and can be listed with {@link unclearTimes}.
 */
import { IANAZone, type Zone } from 'luxon';
import { addDays, clockReading } from './local-time.ts';
import { found, type Result, refused } from './result.ts';
import { zoneNamed } from './zone.ts';

export const WEEKDAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
export type Weekday = (typeof WEEKDAYS)[number];

/** Local times "HH:MM"; `to` at or before `from` means the next day. */
export type ShiftDescription = {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  readonly breaks?: readonly { readonly from: string; readonly to: string }[];
};

export type CalendarDescription = {
  /** IANA name, "Europe/London". */
  readonly zone: string;
  readonly week: Readonly<Partial<Record<Weekday, readonly ShiftDescription[]>>>;
  /** Dates without work, "2026-12-25". */
  readonly daysOff?: readonly string[];
  /** Dates with hours of their own; they go before the week and the days off. */
  readonly otherDays?: Readonly<Record<string, readonly ShiftDescription[]>>;
};

/** Minutes after the midnight that begins the shift's day; above 1440 after the next midnight. */
type MinuteSpan = { readonly from: number; readonly to: number };
type Shift = MinuteSpan & { readonly name: string; readonly breaks: readonly MinuteSpan[] };

export type WorkCalendar = {
  readonly zone: Zone;
  readonly week: Readonly<Partial<Record<Weekday, readonly Shift[]>>>;
  readonly daysOff: ReadonlySet<string>;
  readonly otherDays: ReadonlyMap<string, readonly Shift[]>;
};

/** Milliseconds since 1970 UTC; the end is not part of it. */
export type Span = { readonly from: number; readonly to: number };
export type DatedShift = Span & {
  readonly name: string;
  readonly date: string;
  readonly breaks: readonly Span[];
};

/** Looked up once for each name: the system takes about a millisecond for it. */
const zonesKnown = new Map<string, boolean>();
const isZone = (zone: string): boolean => {
  const known = zonesKnown.get(zone) ?? IANAZone.isValidZone(zone);
  if (zonesKnown.size < 1_000) zonesKnown.set(zone, known);
  return known;
};

/**
 * Reads a calendar from the settings.
 *
 * Errors: an unknown time zone; a time that is not HH:MM; a date that is not one; a break outside its shift.
 */
export function workCalendar(description: CalendarDescription): Result<WorkCalendar> {
  if (!isZone(description.zone)) {
    return refused(
      `"${description.zone}" is no time zone that is known.`,
      'Use a name such as Europe/London.',
    );
  }
  const dates = [...(description.daysOff ?? []), ...Object.keys(description.otherDays ?? {})];
  const noDate = dates.find((date) => !isDate(date));
  if (noDate !== undefined) {
    return refused(`"${noDate}" is not a date.`, 'Write it as 2026-12-25.');
  }
  const week: Partial<Record<Weekday, readonly Shift[]>> = {};
  for (const day of WEEKDAYS) {
    const shifts = readShifts(description.week[day] ?? []);
    if (!shifts.ok) return shifts;
    week[day] = shifts.value;
  }
  const otherDays = new Map<string, readonly Shift[]>();
  for (const [date, described] of Object.entries(description.otherDays ?? {})) {
    const shifts = readShifts(described);
    if (!shifts.ok) return shifts;
    otherDays.set(date, shifts.value);
  }
  const zone = zoneNamed(description.zone);
  return found({ zone, week, daysOff: new Set(description.daysOff), otherDays });
}

/** The same calendar with one shift only, for the hours of somebody who works that shift. */
export function onlyShift(calendar: WorkCalendar, name: string): WorkCalendar {
  const keep = (shifts: readonly Shift[] = []) => shifts.filter((shift) => shift.name === name);
  return {
    ...calendar,
    week: Object.fromEntries(WEEKDAYS.map((day) => [day, keep(calendar.week[day])])),
    otherDays: new Map([...calendar.otherDays].map(([date, shifts]) => [date, keep(shifts)])),
  };
}

/** The shifts that start on a date, as real instants, earliest first. A shift that the clocks left out is not there. */
export function shiftsOn(calendar: WorkCalendar, date: string): readonly DatedShift[] {
  return plannedOn(calendar, date)
    .map((shift) => dated(calendar.zone, date, shift))
    .filter((shift) => shift.to > shift.from)
    .sort((a, b) => a.from - b.from);
}

export type UnclearTime = {
  readonly date: string;
  readonly shift: string;
  /** "HH:MM" as the calendar has it. */
  readonly time: string;
  readonly certainty: 'missing' | 'twice';
  /** The instant taken, milliseconds since 1970 UTC. */
  readonly taken: number;
};

/** The shift and break times of a date that the clocks left out or show twice, for somebody to settle. */
export function unclearTimes(calendar: WorkCalendar, date: string): readonly UnclearTime[] {
  return plannedOn(calendar, date).flatMap((shift) =>
    [shift.from, shift.to, ...shift.breaks.map((pause) => pause.from)].flatMap((minute) => {
      const { instant, certainty } = reading(calendar.zone, date, minute);
      if (certainty === 'once') return [];
      return [{ date, shift: shift.name, time: asClock(minute), certainty, taken: instant }];
    }),
  );
}

function plannedOn(calendar: WorkCalendar, date: string): readonly Shift[] {
  const other = calendar.otherDays.get(date);
  if (other) return other;
  if (calendar.daysOff.has(date)) return [];
  const weekday = WEEKDAYS[(new Date(`${date}T00:00:00Z`).getUTCDay() + 6) % 7];
  return weekday ? (calendar.week[weekday] ?? []) : [];
}

function dated(zone: Zone, date: string, shift: Shift): DatedShift {
  const from = reading(zone, date, shift.from).instant;
  const to = reading(zone, date, shift.to).instant;
  const breaks = shift.breaks.flatMap((pause) => {
    const start = Math.max(from, reading(zone, date, pause.from).instant);
    const end = Math.min(to, start + (pause.to - pause.from) * 60_000);
    return end > start ? [{ from: start, to: end }] : [];
  });
  return { name: shift.name, date, from, to, breaks };
}

function reading(zone: Zone, date: string, minute: number) {
  return clockReading(zone, addDays(date, Math.floor(minute / 1440)), minute % 1440);
}

function readShifts(described: readonly ShiftDescription[]): Result<readonly Shift[]> {
  const shifts: Shift[] = [];
  for (const { name, from, to, breaks = [] } of described) {
    const times = [from, to, ...breaks.flatMap((pause) => [pause.from, pause.to])];
    const noTime = times.find((time) => minuteOf(time) === undefined);
    if (noTime !== undefined) {
      return refused(`"${noTime}" in shift "${name}" is not a time.`, 'Write it as 07:30.');
    }
    const start = minuteOf(from) ?? 0;
    // What lies at or before the start of the shift is meant for the next day.
    const later = (time: string) => (minuteOf(time) ?? 0) + (time <= from ? 1440 : 0);
    const end = later(to);
    const pauses: MinuteSpan[] = [];
    for (const pause of breaks) {
      const begins = pause.from === from ? start : later(pause.from);
      const ends = later(pause.to);
      if (!(begins < ends && ends <= end)) {
        return refused(
          `The break ${pause.from} to ${pause.to} does not lie in shift "${name}" (${from} to ${to}).`,
          'Correct the break or the shift.',
        );
      }
      pauses.push({ from: begins, to: ends });
    }
    shifts.push({ name, from: start, to: end, breaks: pauses });
  }
  return found(shifts);
}

function minuteOf(time: string): number | undefined {
  const match = /^([01]\d|2[0-3]):([0-5]\d)$/.exec(time);
  if (match) return Number(match[1]) * 60 + Number(match[2]);
  return time === '24:00' ? 1440 : undefined;
}

function asClock(minute: number): string {
  const ofDay = minute % 1440;
  const two = (n: number) => String(n).padStart(2, '0');
  return `${two(Math.floor(ofDay / 60))}:${two(ofDay % 60)}`;
}

function isDate(text: string): boolean {
  const instant = Date.parse(`${text}T00:00:00Z`);
  return /^\d{4}-\d{2}-\d{2}$/.test(text) && new Date(instant).toISOString().startsWith(text);
}
