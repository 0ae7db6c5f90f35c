// A time said, against the time of posting: "half 3" in a message of 16:00 is 15:30 of that day.
import type { ReadContext } from './context.ts';
import type { ClockTime, Figure } from './scan/figure.ts';
import { CLOCK_SLACK_MINUTES } from './thresholds.ts';

export type When = { readonly time?: string; readonly assumed: readonly string[] };

const two = (value: number) => String(value).padStart(2, '0');
const STAMP = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2})(?::(\d{2}))?(?:\.\d+)?(Z|[+-]\d{2}:\d{2})$/;

/** ISO 8601 with the offset of the posting where it is known, else HH:MM. */
export function whenSaid(
  figure: Extract<Figure, { kind: 'time' }>,
  context: ReadContext,
  future: boolean,
): When {
  const at = context.at === undefined ? null : STAMP.exec(context.at);
  if (figure.minutesAgo !== undefined) {
    return at ? { time: shifted(at, -figure.minutesAgo), assumed: [] } : { assumed: [] };
  }
  const moment = figure.moment === undefined ? undefined : context.moments?.[figure.moment]?.from;
  const clock = figure.clock ?? (moment === undefined ? undefined : parseClock(moment));
  if (!clock) return { assumed: figure.yesterday ? ['time: yesterday, without a clock time'] : [] };
  const assumed = moment === undefined ? [] : [`time: ${moment}, when ${figure.moment} begins`];
  if (!at) return { time: bare(clock), assumed };
  return { time: onDay(clock, at, figure.yesterday ?? false, future), assumed };
}

function parseClock(text: string): ClockTime | undefined {
  const found = /^(\d{1,2}):(\d{2})$/.exec(text);
  return found ? { hour: Number(found[1]), minute: Number(found[2]), twelve: false } : undefined;
}

/** Without a date the working day decides: "half 3" is in the afternoon, "half 8" in the morning. */
function bare(clock: ClockTime): string {
  const afternoon = clock.twelve && clock.hour >= 1 && clock.hour <= 5;
  return `${two(afternoon ? clock.hour + 12 : clock.hour)}:${two(clock.minute)}`;
}

function onDay(clock: ClockTime, at: RegExpExecArray, yesterday: boolean, future: boolean): string {
  const posted = Number(at[4]) * 60 + Number(at[5]);
  const first = clock.hour * 60 + clock.minute;
  const both = clock.twelve ? [first % 720, (first % 720) + 720] : [first];
  let day = yesterday ? -1 : 0;
  let minutes = yesterday
    ? (both.find((one) => one >= 360) ?? first)
    : future
      ? (both.find((one) => one >= posted) ?? both[0] ?? first)
      : ([...both].reverse().find((one) => one <= posted + CLOCK_SLACK_MINUTES) ??
        both.at(-1) ??
        first);
  if (!yesterday && !future && minutes > posted + CLOCK_SLACK_MINUTES) {
    // Later than the posting: it was the day before only when the night shift makes that likely.
    day = posted < 360 ? -1 : 0;
    minutes = both.at(-1) ?? first;
  }
  return stamp(at, day * 1440 + minutes);
}

function shifted(at: RegExpExecArray, minutes: number): string {
  return stamp(at, Math.round(Number(at[4]) * 60 + Number(at[5]) + minutes));
}

/** The day of the posting at so many minutes after its midnight, with the same offset. */
function stamp(at: RegExpExecArray, minutes: number): string {
  const date = new Date(Date.UTC(Number(at[1]), Number(at[2]) - 1, Number(at[3]), 0, minutes));
  return `${date.getUTCFullYear()}-${two(date.getUTCMonth() + 1)}-${two(date.getUTCDate())}T${two(date.getUTCHours())}:${two(date.getUTCMinutes())}:00${at[7]}`;
}
