// What is still to be done after the vehicle has left: a re-torque by distance, a re-check by date.
import type { JobView } from '../../job/view.ts';
import { positionsTogether } from '../say.ts';

/** A follow-up more than a day later is done after closing; our own value, as in the check of what closing needs. */
const DAY_MINUTES = 24 * 60;

export type FollowUp = { readonly step: string; readonly says: string };

/** Steps that may be done after closing and are not done yet. */
export const followUpsOf = (view: JobView): readonly FollowUp[] =>
  view.plan.steps.flatMap((step): FollowUp[] => {
    const { within } = step;
    if (!within || (within.km === undefined && (within.minutes ?? 0) <= DAY_MINUTES)) return [];
    const open = view.steps.filter(
      (each) => each.step === step.id && each.state !== 'done' && each.state !== 'not-on-job',
    );
    if (open.length === 0) return [];
    const at = open.flatMap(({ position }) => position ?? []);
    const limit = within.km
      ? `${within.km.min} to ${within.km.max} km on the road`
      : `within ${Math.round((within.minutes ?? 0) / DAY_MINUTES)} days`;
    return [
      {
        step: step.id,
        says: `${step.title}${at.length > 0 ? `, ${positionsTogether(at)}` : ''} (${limit})`,
      },
    ];
  });
