// When shift notes are due, on the workshop's calendar: as a shift begins, as it ends, and once a week.
import type { Notes } from '../../../shared/settings.ts';
import { addDays, clockReading, localDate } from '../../trade/local-time.ts';
import { shiftsOn, WEEKDAYS, type WorkCalendar } from '../../trade/work-calendar.ts';

export type DueNote = {
  readonly kind: 'shift-start' | 'shift-end' | 'week';
  /** The same for the same note, whenever it is looked for. */
  readonly key: string;
  /** Milliseconds since 1970 UTC. */
  readonly at: number;
  /** The shift it is about; for the week the days before it. */
  readonly shift: string;
  readonly date: string;
  readonly from: number;
  readonly to: number;
};

const DAY = 86_400_000;
const HOUR = 3_600_000;
/** How long after its time a note is still given, where the program was down: a start while most of the shift is left. */
const STILL_WORTH: Readonly<Record<DueNote['kind'], number>> = {
  'shift-start': 4 * HOUR,
  'shift-end': 4 * HOUR,
  week: 2 * DAY,
};
/** No look is further apart than this; what is older is over. */
const LOOK_BACK = 3 * DAY;

/** The week a date lies in, by its Monday. */
const mondayOf = (date: string): string =>
  addDays(date, -((new Date(`${date}T00:00:00Z`).getUTCDay() + 6) % 7));

const weekNote = (
  calendar: WorkCalendar,
  week: Exclude<Notes['week'], false>,
  monday: string,
): DueNote | undefined => {
  const days = WEEKDAYS.map((_, index) => addDays(monday, index));
  // A day off carries the note to the next day with work, as long as that lies in the same week.
  const wanted = week ? days.slice(WEEKDAYS.indexOf(week.day)) : days;
  const date = wanted.find((day) => shiftsOn(calendar, day).length > 0);
  if (date === undefined) return undefined;
  const first = shiftsOn(calendar, date)[0];
  const minute = week ? Number(week.at.slice(0, 2)) * 60 + Number(week.at.slice(3)) : undefined;
  const at = minute === undefined ? first?.from : clockReading(calendar.zone, date, minute).instant;
  if (at === undefined) return undefined;
  // On Thursday and later the week that ends is looked back on, before that the one before.
  const late = week !== undefined && WEEKDAYS.indexOf(week.day) >= 3;
  const start = late ? monday : addDays(monday, -7);
  return {
    kind: 'week',
    key: `week:${monday}`,
    at,
    shift: '',
    date: start,
    from: clockReading(calendar.zone, start, 0).instant,
    to: late ? at : clockReading(calendar.zone, monday, 0).instant,
  };
};

/** Every note with its time after one instant and not after another, in the order of their times. */
export const notesBetween = (
  calendar: WorkCalendar,
  notes: Notes | undefined,
  after: number,
  until: number,
): readonly DueNote[] => {
  const due: DueNote[] = [];
  const last = localDate(calendar.zone, until);
  const seen = new Set<string>();
  for (
    let date = addDays(localDate(calendar.zone, after), -2);
    date <= last;
    date = addDays(date, 1)
  ) {
    for (const { name, from, to } of shiftsOn(calendar, date)) {
      const about = { shift: name, date, from, to };
      if (notes?.['shift-start'] !== false)
        due.push({ kind: 'shift-start', key: `start:${date}:${name}`, at: from, ...about });
      if (notes?.['shift-end'] !== false)
        due.push({ kind: 'shift-end', key: `end:${date}:${name}`, at: to, ...about });
    }
    const monday = mondayOf(date);
    if (notes?.week === false || seen.has(monday)) continue;
    seen.add(monday);
    const week = weekNote(calendar, notes?.week, monday);
    if (week) due.push(week);
  }
  return due
    .filter(({ at }) => at > after && at <= until)
    .sort((a, b) => a.at - b.at || rank(a) - rank(b));
};

/** At one instant the shift that ends is told before the one that begins. */
const rank = ({ kind }: DueNote): number => ['shift-end', 'week', 'shift-start'].indexOf(kind);

/**
 * The notes to give now: those due since the last look. After a stretch in which nobody looked, of each kind only the
 * newest, and only while it is still worth reading.
 * @param since the stored mark, milliseconds; undefined at the very first start, when nothing is caught up on
 */
export const notesDue = (
  calendar: WorkCalendar,
  notes: Notes | undefined,
  since: number | undefined,
  now: number,
): readonly DueNote[] => {
  if (since === undefined || since >= now) return [];
  const all = notesBetween(calendar, notes, Math.max(since, now - LOOK_BACK), now);
  return all.filter(
    (note, index) =>
      now - note.at <= STILL_WORTH[note.kind] &&
      !all.slice(index + 1).some(({ kind }) => kind === note.kind),
  );
};

/** When the next note is due; undefined where the calendar has no more work within two weeks. */
export const nextNote = (
  calendar: WorkCalendar,
  notes: Notes | undefined,
  now: number,
): number | undefined => notesBetween(calendar, notes, now, now + 14 * DAY)[0]?.at;
