// Hours booked on a job as of now: a view keeps them as of when it was made.
import { minutesBooked } from '../job/state/clock.ts';
import type { JobView } from '../job/view.ts';
import type { WorkCalendar } from '../trade/work-calendar.ts';

/** Minutes; whoever is still on the job books until now while it is open. */
export const bookedNow = (
  view: JobView,
  now: string,
  calendar: WorkCalendar | undefined,
): number =>
  view.status === 'open' && view.clockings.length > 0
    ? minutesBooked(view.clockings, Date.parse(now), calendar)
    : view.minutesBooked;
