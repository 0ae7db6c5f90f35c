// A time axis for a narrow picture: few ticks, at round times of the workshop's clocks.
import { DateTime } from 'luxon';

export type Tick = { readonly at: number; readonly says: string };

/** Steps between ticks, in minutes. */
const STEPS = [15, 30, 60, 120, 180, 360, 720, 1440, 2880, 10_080, 20_160, 43_200] as const;
const MOST = 5;

/**
 * Ticks between two instants (ms), at most five; beyond that many months, none but the ends.
 * They show the time of day, or the date where they are a day or more apart.
 */
export const ticks = (from: number, to: number, zone: string): readonly Tick[] => {
  const minutes = (to - from) / 60_000;
  const step = STEPS.find((each) => minutes / each <= MOST);
  const say = (at: number, format: string): string =>
    DateTime.fromMillis(at, { zone }).setLocale('en').toFormat(format);
  if (step === undefined) return [from, to].map((at) => ({ at, says: say(at, 'd LLL yy') }));
  const format = step >= 1440 ? 'd LLL' : 'HH:mm';
  const made: Tick[] = [];
  let at = DateTime.fromMillis(from, { zone }).startOf('day');
  while (at.toMillis() < from) at = at.plus({ minutes: step });
  for (; at.toMillis() <= to && made.length <= MOST; at = at.plus({ minutes: step }))
    made.push({ at: at.toMillis(), says: say(at.toMillis(), format) });
  return made;
};
