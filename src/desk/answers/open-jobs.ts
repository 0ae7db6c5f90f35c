// "Open jobs": the manager's answer in one message, most urgent first, fit for a phone.
import type { JobView } from '../../job/view.ts';
import type { Card } from '../card.ts';
import { clockTime, duration, list } from '../say.ts';
import { waitsOf } from '../waits.ts';
import { flagsStanding, phaseOf, progressOf, vehicleStateWords } from './where.ts';

const MOST = 12;

/** Smaller is more urgent: a stop, then late, then a caution, then waiting, then by promised time. */
export const urgency = (view: JobView, now: string): readonly [number, number] => {
  const flags = flagsStanding(view);
  const due = view.promised ? Date.parse(view.promised) : Number.POSITIVE_INFINITY;
  const rank = flags.some((flag) => flag.level === 'stop')
    ? 0
    : due < Date.parse(now)
      ? 1
      : flags.length > 0
        ? 2
        : waitsOf(view, now, 'utc').length > 0
          ? 3
          : 4;
  return [rank, due];
};

export const byUrgency = (views: readonly JobView[], now: string): readonly JobView[] =>
  [...views].sort((a, b) => {
    const [rankA, dueA] = urgency(a, now);
    const [rankB, dueB] = urgency(b, now);
    return rankA - rankB || (dueA === dueB ? 0 : dueA - dueB) || (a.job < b.job ? -1 : 1);
  });

export type Filter = 'all' | 'late' | 'waiting';

const line = (view: JobView, now: string, zone: string, hours: boolean): string => {
  const { done, total } = progressOf(view);
  const flags = flagsStanding(view);
  const waits = waitsOf(view, now, zone);
  const stops = flags.filter((flag) => flag.level === 'stop').length;
  const late = view.promised !== undefined && Date.parse(view.promised) < Date.parse(now);
  const planned = plannedMinutes(view);
  const parts = [
    `${view.job} ${view.opened.vehicle.name}, ${view.plan.title}`,
    `${phaseOf(view) ?? 'all done'}, ${done} of ${total}`,
  ];
  if (stops > 0) parts.push(`${stops} STOP open`);
  if (flags.length > stops) parts.push(`${flags.length - stops} caution open`);
  if (late) parts.push(`late: promised ${clockTime(view.promised ?? now, now, zone)}`);
  else if (view.promised) parts.push(`promised ${clockTime(view.promised, now, zone)}`);
  if (waits.length > 0) parts.push(`waits for ${list(waits, 2)}`);
  const states = vehicleStateWords(view);
  if (states.length > 0) parts.push(list(states, 2));
  if (view.technician) parts.push(view.technician);
  if (hours && (view.minutesBooked > 0 || planned > 0))
    parts.push(
      `${view.minutesBooked > 0 ? `${duration(view.minutesBooked)} booked` : 'no hours booked'}${planned > 0 ? ` of ${duration(planned)} planned` : ''}`,
    );
  return `${parts.join(' · ')}.`;
};

/** Hands-on minutes the plan expects for the positions on this job: (best + 4 likely + worst) / 6 for each step. */
export const plannedMinutes = (view: JobView): number =>
  view.steps
    .filter((progress) => progress.state !== 'not-on-job')
    .map((progress) => view.plan.stepById.get(progress.step)?.time)
    .reduce((sum, time) => sum + (time ? (time.best + 4 * time.likely + time.worst) / 6 : 0), 0);

/** @param hours whether the asker may see hours; see the settings. */
export const openJobsCard = (
  views: readonly JobView[],
  filter: Filter,
  now: string,
  zone: string,
  hours: boolean,
): Card => {
  const chosen = byUrgency(views, now).filter((view) =>
    filter === 'late'
      ? view.promised !== undefined && Date.parse(view.promised) < Date.parse(now)
      : filter === 'waiting'
        ? waitsOf(view, now, zone).length > 0
        : true,
  );
  const title = { all: 'Open jobs', late: 'Late jobs', waiting: 'Jobs that wait' }[filter];
  if (chosen.length === 0) {
    const says = filter === 'all' ? 'No job is open.' : `${title}: none of ${views.length} open.`;
    return { title, text: says, blocks: [{ kind: 'text', text: says }] };
  }
  const lines = chosen.slice(0, MOST).map((view) => line(view, now, zone, hours));
  if (chosen.length > MOST) lines.push(`and ${chosen.length - MOST} more, less urgent.`);
  return {
    title: `${title}: ${chosen.length}`,
    text: `${title}: ${chosen.length}.\n${lines.join('\n')}`,
    blocks: [{ kind: 'list', items: lines }],
  };
};
