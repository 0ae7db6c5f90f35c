/**
 * Working minutes on a calendar: how many lie between two instants, and when a number of them is over.
 * Instants are milliseconds since 1970 UTC; minutes are real minutes in which a shift runs and has no break. Where two
 * shifts overlap the time counts once, and a break counts only if nobody else's shift covers it.
 */
import { addDays, localDate, localText, sayMinutes } from './local-time.ts';
import { found, type Result, refused } from './result.ts';
import { type Span, shiftsOn, type WorkCalendar } from './work-calendar.ts';

const MINUTE = 60_000;
const DAY = 86_400_000;
/** Beyond ten years a date was mistyped. */
const LONGEST_DAYS = 3_660;
/** How far is looked ahead at a time. */
const STRIDE = 14 * DAY;

/** The working time between two instants as spans that do not touch one another, earliest first. */
export function workSpans(calendar: WorkCalendar, from: number, to: number): readonly Span[] {
  return spans(calendar, from, to, (shift) => without(shift, shift.breaks));
}

/** The time between two instants in which some shift runs, breaks counted in. */
export function shiftSpans(calendar: WorkCalendar, from: number, to: number): readonly Span[] {
  return spans(calendar, from, to, (shift) => [shift]);
}

export type WorkingTime = {
  /** In a shift and not in a break. */
  readonly working: number;
  /** In a shift's break. */
  readonly breaks: number;
  /** Outside every shift. */
  readonly outside: number;
  readonly answer: string;
};

/**
 * How the minutes between two instants divide into work, breaks and time off; the three add up to the whole.
 * Errors: the end before the start; more than ten years; an instant missing.
 */
export function workingMinutes(
  calendar: WorkCalendar,
  from: number,
  to: number,
): Result<WorkingTime> {
  if (!(Number.isFinite(from) && Number.isFinite(to))) {
    return refused('One of the two times is missing.', 'Give a start and an end.');
  }
  if (to < from) {
    return refused(
      `The end ${localText(calendar.zone, to)} is before the start ${localText(calendar.zone, from)}.`,
      'Correct one of the two.',
    );
  }
  if (to - from > LONGEST_DAYS * DAY) {
    return refused('The two times are more than ten years apart.', 'Read the year again.');
  }
  const working = total(workSpans(calendar, from, to));
  const inShift = total(shiftSpans(calendar, from, to));
  const outside = (to - from) / MINUTE - inShift;
  const zone = calendar.zone.name;
  const answer = `${sayMinutes(working)} of work from ${localText(calendar.zone, from)} to ${localText(calendar.zone, to)}, by the shift calendar (${zone}); breaks ${sayMinutes(inShift - working)}, outside shifts ${sayMinutes(outside)}.`;
  return found({ working, breaks: inShift - working, outside, answer });
}

/**
 * The instant at which a number of working minutes after a start is over; the start itself for none.
 * Errors: a number below 0 or missing; a calendar with too little work in the ten years after the start.
 */
export function afterWorkingMinutes(
  calendar: WorkCalendar,
  from: number,
  minutes: number,
): Result<{ readonly instant: number; readonly answer: string }> {
  if (!(Number.isFinite(from) && Number.isFinite(minutes) && minutes >= 0)) {
    return refused('There is no time to count on from.', 'Give a start and a number of minutes.');
  }
  let left = minutes * MINUTE;
  const reached = (instant: number) =>
    found({
      instant,
      answer: `${localText(calendar.zone, instant)}, ${sayMinutes(minutes)} of work after ${localText(calendar.zone, from)} by the shift calendar (${calendar.zone.name}). Waiting for parts is not in it.`,
    });
  if (left === 0) return reached(from);
  for (let at = from; at < from + LONGEST_DAYS * DAY; at += STRIDE) {
    for (const span of workSpans(calendar, at, at + STRIDE)) {
      if (left <= span.to - span.from) return reached(span.from + left);
      left -= span.to - span.from;
    }
  }
  return refused(
    `The calendar has less than ${sayMinutes(minutes)} of work in the next ten years.`,
    'Enter the shifts in the settings, or read the number again.',
  );
}

/** Whether a shift runs at an instant, a break counted as running. */
export function isInShift(calendar: WorkCalendar, instant: number): boolean {
  return shiftSpans(calendar, instant, instant + 1).length > 0;
}

function total(list: readonly Span[]): number {
  return list.reduce((sum, span) => sum + span.to - span.from, 0) / MINUTE;
}

function spans(
  calendar: WorkCalendar,
  from: number,
  to: number,
  pieces: (shift: Span & { readonly breaks: readonly Span[] }) => readonly Span[],
): readonly Span[] {
  const all: Span[] = [];
  // A shift of the day before may still run; none is longer than a day.
  const last = localDate(calendar.zone, to);
  for (
    let date = addDays(localDate(calendar.zone, from), -2);
    date <= last;
    date = addDays(date, 1)
  ) {
    for (const shift of shiftsOn(calendar, date)) {
      for (const piece of pieces(shift)) {
        const clipped = { from: Math.max(from, piece.from), to: Math.min(to, piece.to) };
        if (clipped.to > clipped.from) all.push(clipped);
      }
    }
  }
  return union(all);
}

/** Spans joined where they touch or overlap, earliest first. */
export function union(list: readonly Span[]): readonly Span[] {
  const joined: Span[] = [];
  for (const span of [...list].sort((a, b) => a.from - b.from)) {
    const last = joined.at(-1);
    if (last && span.from <= last.to) {
      joined[joined.length - 1] = { from: last.from, to: Math.max(last.to, span.to) };
    } else {
      joined.push(span);
    }
  }
  return joined;
}

function without(span: Span, holes: readonly Span[]): readonly Span[] {
  const left: Span[] = [];
  let from = span.from;
  for (const hole of union(holes)) {
    if (hole.from > from) left.push({ from, to: hole.from });
    from = Math.max(from, hole.to);
  }
  if (span.to > from) left.push({ from, to: span.to });
  return left;
}
