// "from 07:00 to 15:30", "13.45", "1:30 pm": clock times in a question.

import { found, type Result } from '../../../trade/result.ts';
import { dateOf } from '../../../trade/tightening/calendar-date.ts';

/** Minutes after midnight. */
export type ClockSaid = { readonly minute: number; readonly from: number; readonly to: number };

const CLOCK =
  /(?<![\d.:])(?:([01]?\d|2[0-4])(?:[:.h]([0-5]\d))\s*(am|pm|uhr)?|(1[0-2]|[1-9])\s*(am|pm)|([01]?\d|2[0-3])\s*uhr)(?![\d:])/g;

/** The clock times of a text in small letters, in the order typed. 24:00 is the end of a day. */
export function clockTimesIn(plain: string): readonly ClockSaid[] {
  return [...plain.matchAll(CLOCK)].flatMap((match) => {
    const [all, hour24, minutes, half, hour12, half12, uhr] = match;
    const typed = Number(hour24 ?? hour12 ?? uhr);
    const part = half ?? half12;
    const hour =
      part === 'pm' && typed < 12 ? typed + 12 : part === 'am' && typed === 12 ? 0 : typed;
    const minute = hour * 60 + Number(minutes ?? 0);
    return minute > 1440 ? [] : [{ minute, from: match.index, to: match.index + all.length }];
  });
}

/** "07:05". */
export const clockText = (minute: number): string =>
  `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;

/** The day a question names, else today; ISO 8601. Refused: a date that there is not. */
export function dayIn(plain: string, today: string): Result<string> {
  const typed = /\b(\d{4}-\d{2}-\d{2})\b/.exec(plain)?.[1];
  return typed === undefined ? found(today.slice(0, 10)) : dateOf(typed, 'The day');
}
