import { found, type Result, refused } from '../result.ts';

/**
 * The day in an ISO 8601 date or date-time, as "2026-03-01"; what follows the day is not looked at.
 * Such texts compare as days do. Refused: another form, or a day the calendar does not have.
 */
export function dateOf(text: string, name: string): Result<string> {
  const parts = /^(\d{4})-(\d{2})-(\d{2})(?:T.*)?$/.exec(text);
  const [year, month, day] = [Number(parts?.[1]), Number(parts?.[2]), Number(parts?.[3])];
  if (parts && month >= 1 && month <= 12 && day >= 1 && day <= daysIn(year, month)) {
    return found(text.slice(0, 10));
  }
  return refused(`${name} is "${text}".`, 'Write it as year-month-day, such as 2026-03-01.');
}

/** The same day of the month so many months on, or the month's last day where it is shorter. */
export function addMonths(date: string, months: number): string {
  const [year = 0, month = 1, day = 1] = date.split('-').map(Number);
  const index = year * 12 + (month - 1) + months;
  const toYear = Math.floor(index / 12);
  const toMonth = (index % 12) + 1;
  const toDay = Math.min(day, daysIn(toYear, toMonth));
  return `${pad(toYear, 4)}-${pad(toMonth, 2)}-${pad(toDay, 2)}`;
}

function daysIn(year: number, month: number): number {
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  if (month === 2) return leap ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}

function pad(value: number, width: number): string {
  return String(value).padStart(width, '0');
}
