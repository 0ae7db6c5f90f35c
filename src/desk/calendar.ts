// The workshop's shifts as a calendar of working time.
import type { Settings } from '../../shared/settings.ts';
import type { Result } from '../trade/result.ts';
import {
  type ShiftDescription,
  WEEKDAYS,
  type WorkCalendar,
  workCalendar,
} from '../trade/work-calendar.ts';

type Shifts = Pick<Settings, 'shifts' | 'zone' | 'days-off'>;

/** The shifts of the settings as a calendar, or what does not fit in them. */
export const calendarIn = (settings: Shifts): Result<WorkCalendar> => {
  const week: Partial<Record<(typeof WEEKDAYS)[number], ShiftDescription[]>> = {};
  for (const day of WEEKDAYS)
    week[day] = (settings.shifts ?? [])
      .filter((shift) => shift.days.includes(day))
      .map((shift) => ({
        name: shift.name,
        from: shift.from,
        to: shift.to,
        ...(shift.breaks ? { breaks: shift.breaks.map(({ from, to }) => ({ from, to })) } : {}),
      }));
  return workCalendar({
    zone: settings.zone,
    week,
    ...(settings['days-off'] ? { daysOff: settings['days-off'] } : {}),
  });
};

/** The shifts of the settings as a calendar; undefined without shifts, then waiting counts in real minutes. */
export const calendarOf = (settings: Shifts): WorkCalendar | undefined => {
  const made = settings.shifts?.length ? calendarIn(settings) : undefined;
  return made?.ok ? made.value : undefined;
};
