// The wording that flags share: steps with their places, times, figures.
import type { Quantity } from '../../shared/reading.ts';
import { formatQuantity, isUnit } from '../trade/units.ts';
import type { Plan } from './plan.ts';
import type { Limit } from './state/asks/ask-state.ts';
import type { Job } from './state/job.ts';

type Named = { readonly plan: Plan };

/** The title of a step or watched act, in quotes. */
export const titled = ({ plan }: Named, step: string): string =>
  `"${plan.stepById.get(step)?.title ?? plan.watchedById.get(step)?.title ?? step}"`;

/** `"Fit the injector", cylinder 3`. */
export const placed = (job: Named, step: string, position: string | null): string =>
  position === null ? titled(job, step) : `${titled(job, step)}, ${position}`;

/** Hours and minutes as they stand in an ISO time: in the zone of its own offset. */
export const clock = (iso: string): string => iso.slice(11, 16);

/** `Job 1042, cylinder 3, 14:10.` */
export const where = (job: Pick<Job, 'opened'>, position: string | null, iso: string): string =>
  `Job ${job.opened.job}, ${position === null ? '' : `${position}, `}${clock(iso)}.`;

/** "a, b and c". */
export function listed(items: readonly string[]): string {
  const last = items.at(-1);
  if (last === undefined) return 'nothing';
  return items.length === 1 ? last : `${items.slice(0, -1).join(', ')} and ${last}`;
}

/** A figure with its unit: `28 L`, `30 to 34 L`. */
export function figure({ value, unit, low, high }: Quantity): string {
  const one = (number: number): string =>
    isUnit(unit) ? formatQuantity(number, unit) : `${number} ${unit}`;
  return low !== undefined && high !== undefined && low !== high
    ? `${bare(low, unit)} to ${one(high)}`
    : one(value);
}

/** What a limit expects: `30 to 34 L`, `at most 5 bar`. */
export function expected({ min, max, unit }: Omit<Limit, 'source'>): string {
  const one = (value: number): string => figure({ value, unit });
  if (min !== undefined && max !== undefined) {
    return min === max ? one(min) : `${bare(min, unit)} to ${one(max)}`;
  }
  return min !== undefined ? `at least ${one(min)}` : `at most ${one(max ?? 0)}`;
}

/** The figure without its unit, where the unit follows behind the other end of the range. */
function bare(value: number, unit: string): string {
  const whole = figure({ value, unit });
  return whole.replace(/\s?[^\d\s]+(?: [^\d\s]+)*$/u, '') || whole;
}

/** The reason the plan gives for a step, as a sentence of its own; empty where it gives none. */
export function why({ plan }: Named, step: string): string {
  const said = plan.stepById.get(step)?.why?.trim();
  return said === undefined ? '' : ` ${/[.?]$/u.test(said) ? said : `${said}.`}`;
}
