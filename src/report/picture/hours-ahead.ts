// The hours ahead of all open jobs: a plain list with bars, the most urgent first.
import { readyWords } from '../../desk/answers/forecast.ts';
import { byUrgency } from '../../desk/answers/open-jobs.ts';
import { flagsStanding } from '../../desk/answers/where.ts';
import type { JobForecast } from '../../desk/forecast/forecast.ts';
import { comesAfter } from '../../desk/forecast/job-run.ts';
import { clockTime, duration } from '../../desk/say.ts';
import type { JobView } from '../../job/view.ts';
import {
  bar,
  fitted,
  INKS,
  levelShape,
  MARGIN,
  type Mode,
  PHONE,
  type Picture,
  picture,
  SMALL,
  words,
} from './svg.ts';

export type HoursAhead = {
  readonly view: JobView;
  /** Planned hands-on minutes of the steps that are done, and of those that are not. */
  readonly done: number;
  readonly ahead: number;
  readonly late: boolean;
  readonly waits: boolean;
};

/** A step that is only partly reported counts as ahead with its whole time; one for after the vehicle has left does not. */
export const hoursAheadOf = (view: JobView, now: string): HoursAhead => {
  const sum = (isDone: boolean): number =>
    view.steps
      .filter(({ state }) => state !== 'not-on-job' && (state === 'done') === isDone)
      .reduce((total, { step: id }) => {
        const step = view.plan.stepById.get(id);
        const time = step && !comesAfter(step) ? step.time : undefined;
        return total + (time ? (time.best + 4 * time.likely + time.worst) / 6 : 0);
      }, 0);
  return {
    view,
    done: sum(true),
    ahead: sum(false),
    late: view.promised !== undefined && Date.parse(view.promised) < Date.parse(now),
    waits: view.blocked.length > 0 || view.holds.some(({ state }) => state === 'waits'),
  };
};

/** Jobs drawn at most; the rest is counted. */
const MOST = 14;

export type HoursAheadOptions = {
  readonly now: string;
  readonly zone: string;
  readonly mode?: Mode;
  /** When each job will be ready, by its number. */
  readonly ready?: ReadonlyMap<string, Pick<JobForecast, 'likely' | 'cautious'>>;
};

export const hoursAheadPicture = (
  views: readonly JobView[],
  { now, zone, mode = 'light', ready }: HoursAheadOptions,
): Picture => {
  const inks = INKS[mode];
  const open = byUrgency(
    views.filter(({ status }) => status === 'open'),
    now,
  );
  const jobs = open.slice(0, MOST).map((view) => hoursAheadOf(view, now));
  const width = PHONE - 2 * MARGIN;
  const longest = Math.max(1, ...jobs.map(({ done, ahead }) => done + ahead));
  const title = `Hours ahead, ${open.length} open ${open.length === 1 ? 'job' : 'jobs'}`;
  const parts: string[] = [
    words(MARGIN, 22, title, { size: 17, bold: true }),
    bar('done', MARGIN, 34, 22, 8, inks),
    words(MARGIN + 27, 42, 'done', { size: SMALL }),
    bar('planned', MARGIN + 66, 34, 22, 8, inks),
    words(MARGIN + 93, 42, 'ahead, hands-on by the plan', { size: SMALL }),
  ];
  let y = 54;
  for (const job of jobs) {
    y += 19;
    const stop = stopsOf(job.view) > 0;
    if (stop) parts.push(levelShape('stop', MARGIN + 3, y - 4, inks.ink));
    parts.push(
      words(
        MARGIN + (stop ? 12 : 0),
        y,
        fitted(
          `${job.view.job} ${job.view.opened.vehicle.name}: ${aheadWords(job)}`,
          width - 12,
          15,
        ),
        { size: 15, bold: true },
      ),
    );
    y += 17;
    parts.push(words(MARGIN, y, fitted(stateWords(job, now, zone), width), { fill: inks.quiet }));
    const found = ready?.get(job.view.job);
    if (found) {
      y += 17;
      const says = `ready ${readyWords(found, now, zone)}`;
      parts.push(words(MARGIN, y, fitted(says, width), { fill: inks.quiet }));
    }
    const doneWidth = (width * job.done) / longest;
    const aheadWidth = (width * job.ahead) / longest;
    if (job.done > 0) parts.push(bar('done', MARGIN, y + 6, doneWidth, 9, inks));
    if (job.ahead > 0) parts.push(bar('planned', MARGIN + doneWidth, y + 6, aheadWidth, 9, inks));
    y += 24;
  }
  const left = open.length - jobs.length;
  const foot =
    open.length === 0 ? 'No job is open.' : left > 0 ? `and ${left} more, less urgent.` : '';
  if (foot !== '') {
    y += 14;
    parts.push(words(MARGIN, y, foot));
  }
  const text = [
    `${title}.`,
    ...jobs.map((job) => {
      const found = ready?.get(job.view.job);
      const when = found ? ` Ready ${readyWords(found, now, zone)}.` : '';
      return `${job.view.job} ${job.view.opened.vehicle.name}: ${aheadWords(job)}, ${duration(job.done)} done. ${stateWords(job, now, zone)}.${when}`;
    }),
    ...(foot === '' ? [] : [foot]),
  ].join('\n');
  return picture(title, text, y + 14, inks, parts);
};

const aheadWords = ({ ahead }: HoursAhead): string =>
  ahead >= 1 ? `${duration(ahead)} ahead` : 'nothing ahead';

const stopsOf = (view: JobView): number =>
  flagsStanding(view).filter(({ level }) => level === 'stop').length;

const stateWords = ({ view, late, waits }: HoursAhead, now: string, zone: string): string => {
  const stops = stopsOf(view);
  const promised = view.promised ? clockTime(view.promised, now, zone) : undefined;
  return [
    ...(stops > 0 ? [`${stops} STOP open`] : []),
    ...(promised ? [late ? `LATE, promised ${promised}` : `promised ${promised}`] : ['no promise']),
    ...(waits ? ['waits'] : []),
    ...(view.technician ? [view.technician] : []),
  ].join(' · ');
};
