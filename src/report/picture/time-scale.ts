// Where a time stands in a narrow picture: nights and days off are drawn as a gap, so that the hours of work have room.
import { DateTime } from 'luxon';
import type { WorkCalendar } from '../../trade/work-calendar.ts';
import { shiftSpans } from '../../trade/working-time.ts';
import { type Tick, ticks } from './time-axis.ts';

type Piece = {
  readonly from: number;
  readonly to: number;
  readonly x: number;
  readonly width: number;
};

export type TimeScale = {
  readonly x: (at: number) => number;
  /** Where nobody works for hours, as places in the picture. */
  readonly gaps: readonly { readonly x: number; readonly width: number }[];
  readonly ticks: readonly Tick[];
};

/** Off time shorter than this is drawn as long as it is. */
const SHORTEST_GAP = 2 * 3_600_000;
const GAP = 10;
/** Gaps never take more than this share of the width. */
const MOST = 0.3;
/** Ticks stand at least so far apart, so that their words do not touch. */
const APART = 70;

/**
 * @param calendar hours of the workshop; without it time runs evenly
 * @param from, to ms since 1970 UTC; what lies outside is drawn at the edge
 */
export const timeScale = (
  from: number,
  to: number,
  { left, width }: { readonly left: number; readonly width: number },
  zone: string,
  calendar: WorkCalendar | undefined,
): TimeScale => {
  const gaps = calendar ? gapsIn(calendar, from, to) : [];
  const gap = Math.min(GAP, (MOST * width) / Math.max(1, gaps.length));
  const off = gaps.reduce((sum, span) => sum + span.to - span.from, 0);
  const each = (width - gap * gaps.length) / Math.max(1, to - from - off);
  const pieces: Piece[] = [];
  let at = from;
  let x = left;
  const add = (end: number, wide: number): void => {
    pieces.push({ from: at, to: end, x, width: wide });
    at = end;
    x += wide;
  };
  for (const span of gaps) {
    if (span.from > at) add(span.from, (span.from - at) * each);
    add(span.to, gap);
  }
  if (to > at) add(to, (to - at) * each);
  const place = (when: number): number => {
    const inside = Math.min(to, Math.max(from, when));
    const piece = pieces.find((one) => inside <= one.to) ?? pieces.at(-1);
    if (!piece) return left;
    const share = piece.to > piece.from ? (inside - piece.from) / (piece.to - piece.from) : 0;
    return piece.x + piece.width * share;
  };
  return {
    x: place,
    gaps: gaps.map((span) => ({ x: place(span.from), width: gap })),
    ticks: gaps.length === 0 ? ticks(from, to, zone) : dayTicks(from, to, gaps, place, zone),
  };
};

const gapsIn = (calendar: WorkCalendar, from: number, to: number) => {
  const found: { from: number; to: number }[] = [];
  let at = from;
  for (const span of [...shiftSpans(calendar, from, to), { from: to, to }]) {
    if (span.from - at >= SHORTEST_GAP) found.push({ from: at, to: span.from });
    at = Math.max(at, span.to);
  }
  return found;
};

/**
 * The beginning, and the end of each gap, named by day and time; then whole hours between them, where there is room for
 * their words.
 */
const dayTicks = (
  from: number,
  to: number,
  gaps: readonly { readonly from: number; readonly to: number }[],
  place: (at: number) => number,
  zone: string,
): readonly Tick[] => {
  const long = to - from > 6 * 86_400_000;
  const made: Tick[] = [];
  const add = (at: number, format: string): void => {
    if (made.some((tick) => Math.abs(place(at) - place(tick.at)) < APART)) return;
    made.push({ at, says: DateTime.fromMillis(at, { zone }).setLocale('en').toFormat(format) });
  };
  for (const at of [from, ...gaps.map((gap) => gap.to)]) add(at, long ? 'd LLL' : 'ccc HH:mm');
  const first = DateTime.fromMillis(from, { zone }).startOf('day');
  for (let hour = 0; !long && hour < 7 * 24; hour += 6) {
    const at = first.plus({ hours: hour }).toMillis();
    const off = gaps.some((gap) => at >= gap.from && at <= gap.to);
    // At the right edge there is no room for half of the words.
    if (at > from && at < to - 0.05 * (to - from) && !off) add(at, 'HH:mm');
  }
  return made.sort((a, b) => a.at - b.at);
};
