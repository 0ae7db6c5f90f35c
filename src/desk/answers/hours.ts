// "Hours on 1042": booked against planned, for those the settings name.
import type { JobView } from '../../job/view.ts';
import type { Card } from '../card.ts';
import { duration } from '../say.ts';
import { plannedMinutes } from './open-jobs.ts';

/** @param may whether the asker may see hours */
export const hoursCard = (view: JobView, may: boolean): Card => {
  const says = may
    ? `${duration(view.minutesBooked)} booked on job ${view.job} of ${duration(plannedMinutes(view))} planned (hands-on, the mean of the plan's three-point times).`
    : 'Hours are shown to the roles that the settings name. Ask a controller or manager.';
  return { text: says, blocks: [{ kind: 'text', text: says }] };
};
