// The hours in which the workshop works: its shifts, or day and night where the settings name none.
import type { Settings } from '../../../shared/settings.ts';
import { WEEKDAYS, type WorkCalendar, workCalendar } from '../../trade/work-calendar.ts';
import { calendarOf } from '../calendar.ts';

/** Undefined for a time zone that is not known. */
export const workshopHours = (
  settings: Pick<Settings, 'zone' | 'shifts' | 'days-off'>,
): WorkCalendar | undefined => {
  const shifts = calendarOf(settings);
  if (shifts) return shifts;
  const day = [{ name: 'day and night', from: '00:00', to: '24:00' }];
  const made = workCalendar({
    zone: settings.zone,
    week: Object.fromEntries(WEEKDAYS.map((each) => [each, day])),
  });
  return made.ok ? made.value : undefined;
};
