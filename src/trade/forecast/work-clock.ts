/**
 * Working time counted forth from a moment, quickly: the spans of the calendar are laid out once and looked up.
 * The same answers as {@link afterWorkingMinutes} and {@link workingMinutes}, held by a test.
 */
import type { Span, WorkCalendar } from '../work-calendar.ts';
import { workSpans } from '../working-time.ts';

const MINUTE = 60_000;
const STRIDE = 28 * 86_400_000;
/** A job that takes longer than this many strides, more than two years, has no forecast. */
const MOST_STRIDES = 30;

export type WorkClock = {
  /** The instant at which so many working minutes after another are over; NaN beyond two years. */
  readonly after: (instant: number, minutes: number) => number;
  /** The first instant at or after this one at which somebody works. */
  readonly next: (instant: number) => number;
  /** Working minutes from one instant to a later one. */
  readonly between: (from: number, to: number) => number;
};

/** @param start ms since 1970 UTC; earlier instants are taken as this one */
export function workClock(calendar: WorkCalendar, start: number): WorkClock {
  const spans: Span[] = [];
  /** Working milliseconds before each span. */
  const before: number[] = [];
  let strides = 0;
  let total = 0;
  const lay = (): boolean => {
    if (strides >= MOST_STRIDES) return false;
    const from = start + strides * STRIDE;
    for (const span of workSpans(calendar, from, from + STRIDE)) {
      spans.push(span);
      before.push(total);
      total += span.to - span.from;
    }
    strides += 1;
    return true;
  };
  lay();
  /** The last span that begins at or before an instant, or -1. */
  const spanAt = (instant: number): number => {
    while (start + strides * STRIDE <= instant && lay());
    let low = -1;
    let high = spans.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((spans[middle]?.from ?? 0) <= instant) low = middle;
      else high = middle - 1;
    }
    return low;
  };
  /** Working milliseconds from the start to an instant. */
  const worked = (instant: number): number => {
    const at = spanAt(instant);
    const span = spans[at];
    if (!span) return 0;
    return (before[at] ?? 0) + Math.min(instant, span.to) - span.from;
  };
  /** The instant at which so many working milliseconds from the start are over. */
  const reached = (milliseconds: number): number => {
    while (total < milliseconds && lay());
    if (total < milliseconds) return Number.NaN;
    let low = 0;
    let high = spans.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((before[middle] ?? 0) < milliseconds) low = middle;
      else high = middle - 1;
    }
    return (spans[low]?.from ?? Number.NaN) + milliseconds - (before[low] ?? 0);
  };
  return {
    after: (instant, minutes) =>
      minutes <= 0 ? instant : reached(worked(instant) + minutes * MINUTE),
    next: (instant) => {
      const at = spanAt(instant);
      const span = spans[at];
      if (span && instant < span.to) return Math.max(instant, span.from);
      while (at + 1 >= spans.length) if (!lay()) return Number.NaN;
      return spans[at + 1]?.from ?? Number.NaN;
    },
    between: (from, to) => Math.max(0, worked(to) - worked(from)) / MINUTE,
  };
}
