/** A report in words may run a little ahead of the clock that stamped its message. */
const CLOCKS_APART = 15 * 60_000;
const DAY = 86_400_000;

export type SaidTime = { readonly at: number; readonly iso: string };

/**
 * The time a message says its work was done. `time` is ISO 8601 with offset, or HH:MM in the offset of the message:
 * then the last such time that is not after the message, so "23:50" posted at 00:20 is yesterday.
 *
 * @returns undefined where the text is no time
 */
export function saidTime(time: string, postedIso: string): SaidTime | undefined {
  const clock = /^([01]?\d|2[0-3]):([0-5]\d)$/.exec(time);
  if (clock === null) {
    const at = Date.parse(time);
    return Number.isNaN(at) || !/(Z|[+-]\d\d:?\d\d)$/.test(time) ? undefined : { at, iso: time };
  }
  const offset = offsetMinutes(postedIso);
  const posted = Date.parse(postedIso);
  const midnight = Math.floor((posted + offset * 60_000) / DAY) * DAY - offset * 60_000;
  const sameDay = midnight + (Number(clock[1]) * 60 + Number(clock[2])) * 60_000;
  const at = sameDay > posted + CLOCKS_APART ? sameDay - DAY : sameDay;
  return { at, iso: inOffset(at, offset) };
}

/** Minutes east of UTC in an ISO time; 0 for Z. */
export function offsetMinutes(iso: string): number {
  const found = /([+-])(\d\d):?(\d\d)$/.exec(iso);
  if (found === null) return 0;
  const minutes = Number(found[2]) * 60 + Number(found[3]);
  return found[1] === '-' ? -minutes : minutes;
}

/** An instant in ISO 8601, written in an offset of so many minutes east of UTC. */
export function inOffset(at: number, offset: number): string {
  const local = new Date(at + offset * 60_000).toISOString().replace(/\.000Z$|Z$/, '');
  const size = Math.abs(offset);
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${local}${offset < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}
