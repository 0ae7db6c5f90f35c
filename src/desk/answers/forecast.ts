// "When will it be ready": likely and cautious, what drives it, and what it rests on.
import { DateTime } from 'luxon';
import type { JobView } from '../../job/view.ts';
import type { Card } from '../card.ts';
import {
  type ForecastGround,
  forecastJob,
  forecastWorkshop,
  type JobForecast,
} from '../forecast/forecast.ts';
import { bareSentence, duration, list, stepTitle } from '../say.ts';
import { waitsIn, waitWords } from '../waits.ts';

/** "14:30" on the day itself, "Thursday 14:30" within a week, else "Thu 26 Nov 14:30". */
export const dayTime = (iso: string, now: string, zone: string): string => {
  const at = DateTime.fromISO(iso, { zone }).setLocale('en');
  const today = DateTime.fromISO(now, { zone });
  if (at.hasSame(today, 'day')) return at.toFormat('HH:mm');
  const apart = Math.abs(at.startOf('day').diff(today.startOf('day'), 'days').days);
  return at.toFormat(apart < 7 ? 'cccc HH:mm' : 'ccc d LLL HH:mm');
};

/** "Thursday 14:30, cautiously Friday 09:00"; the same time twice is said once. */
export const readyWords = (
  { likely, cautious }: Pick<JobForecast, 'likely' | 'cautious'>,
  now: string,
  zone: string,
): string => {
  if (likely === null) return 'not in the hours there are';
  const first = dayTime(likely, now, zone);
  if (cautious === null) return `${first}, cautiously not in the hours there are`;
  const second = dayTime(cautious, now, zone);
  return first === second ? `${first}, likely and cautiously` : `${first}, cautiously ${second}`;
};

const MOST_DRIVERS = 4;
/** A kind of step that is on the chain in fewer runs than this drives nothing. */
const DRIVES = 0.2;

/** "Fit the injectors, 1 h 35 min", "Let the engine cool, 10 min and 1 h to wait". */
export const driverWords = (
  view: JobView,
  forecast: JobForecast,
  most = MOST_DRIVERS,
): readonly string[] =>
  forecast.drivers
    .filter(({ often, handsOn, waiting }) => often >= DRIVES && handsOn + waiting >= 1)
    .slice(0, most)
    .map(({ job, kind, handsOn, waiting, often }) => {
      const what = job === view.job ? stepTitle(view, kind) : `work on job ${job}`;
      const wait = waiting >= 1 ? `${duration(waiting)} to wait` : '';
      const time = [handsOn >= 1 ? duration(handsOn) : '', wait].filter(Boolean).join(' and ');
      return `${what}, ${time}${often < 0.8 ? ` (in ${Math.round(10 * often)} of 10 runs)` : ''}`;
    });

const share = (pace: number): string => {
  const percent = Math.round(100 * (pace - 1));
  if (Math.abs(percent) < 3) return "at the plan's pace";
  return percent > 0 ? `${percent} % slower than the plan` : `${-percent} % quicker than the plan`;
};

/** What the pace was so far, what past jobs took, and what is counted with. */
export const paceWords = ({ soFar, pace }: JobForecast): string => {
  const parts = [
    soFar ? `${share(Math.exp(soFar.log))} so far` : 'nothing done yet to tell the pace',
    pace.jobs > 0
      ? `${pace.jobs} past ${pace.jobs === 1 ? 'job' : 'jobs'} on this plan looked at`
      : 'no past job on this plan to go by',
    `the rest is counted ${share(Math.exp(pace.middle))}`,
  ];
  return parts.join('; ');
};

/** What stops the job now and nobody can put a time to. */
const notCounted = (view: JobView, now: string, zone: string): readonly string[] =>
  waitsIn(view)
    .filter(({ kind }) => kind !== 'answer')
    .map((wait) => waitWords(wait, now, zone));

/**
 * @param openJobs views of all open jobs, this one among them: its people may have others before it
 */
export const forecastCard = (
  view: JobView,
  openJobs: readonly JobView[],
  ground: ForecastGround,
): Card => {
  const { now, settings } = ground;
  const { zone } = settings;
  const title = `Job ${view.job}, ${view.opened.vehicle.name}`;
  if (view.status !== 'open') return plainCard(`${title} is ${view.status}.`);
  const forecast = forecastJob(view, ground);
  const waits = notCounted(view, now, zone);
  if (forecast.left === 0) return plainCard(`${title}: ${nothingToTime(view)}`);
  const among = besideOthers(view, forecast, openJobs, ground);
  const ready = readyWords(forecast, now, zone);
  const rows: (readonly [string, string])[] = [['Ready', ready]];
  if (view.promised) rows.push(['Promised', promiseWords(view.promised, forecast, now, zone)]);
  if (among) rows.push(['With the other open jobs', readyWords(among, now, zone)]);
  const drivers = driverWords(view, forecast);
  if (drivers.length > 0) rows.push(['Driven by', drivers.join('; ')]);
  rows.push(['Pace', paceWords(forecast)]);
  rows.push(['Hands', list(forecast.people, 4)]);
  if (waits.length > 0) rows.push(['Not counted', `how long it waits for ${list(waits, 3)}`]);
  rows.push([
    'How sure',
    sureWords(settings.shifts?.length ? 'the shifts' : 'day and night, no shifts are set'),
  ]);
  return {
    title: `${title}: ready ${ready}`,
    text: `${title}. ${rows.map(([label, value]) => `${label}: ${value}.`).join(' ')}`,
    blocks: [{ kind: 'facts', rows }],
  };
};

const sureWords = (hours: string): string =>
  `half of the drawn runs are ready by the first time, nine in ten by the cautious one; counted by ${hours}`;

const promiseWords = (
  promised: string,
  { late }: JobForecast,
  now: string,
  zone: string,
): string => {
  const at = dayTime(promised, now, zone);
  if (Date.parse(promised) < Date.parse(now)) return `${at}, which is past`;
  const tenth = Math.round(10 * (late ?? 0));
  return tenth === 0
    ? `${at}, kept in every run or nearly`
    : `${at}, missed in ${tenth} of 10 runs`;
};

/** The forecast with all open jobs on the same people, where that is at least half an hour later. */
const besideOthers = (
  view: JobView,
  alone: JobForecast,
  openJobs: readonly JobView[],
  ground: ForecastGround,
): JobForecast | undefined => {
  if (openJobs.length < 2) return undefined;
  const among = forecastWorkshop(openJobs, ground).get(view.job);
  if (!among) return undefined;
  const apart = (a: string | null, b: string | null): number =>
    Date.parse(a ?? '9999-01-01') - Date.parse(b ?? '9999-01-01');
  return apart(among.likely, alone.likely) >= 30 * 60_000 ? among : undefined;
};

/** No step with a time is left: all are done, or the plan has no times for the rest. */
const nothingToTime = (view: JobView): string => {
  if (view.closeNeeds.length === 0) return 'every step has its record, and it can be closed.';
  const needs = list(view.closeNeeds.map(bareSentence), 4);
  const open = view.steps.some(({ state }) => state !== 'done' && state !== 'not-on-job');
  return open
    ? `the plan has no times for what is left, so there is no forecast. Still open: ${needs}.`
    : `every step has its record. Still open: ${needs}.`;
};

const plainCard = (text: string): Card => ({ text, blocks: [{ kind: 'text', text }] });

/** One line for each open job, the first to be ready first: "1042 bus 417: Thursday 14:30, cautiously Friday 09:00". */
export const workshopForecastLines = (
  views: readonly JobView[],
  ground: ForecastGround,
): readonly string[] => {
  const all = forecastWorkshop(views, ground);
  return views
    .flatMap((view) => {
      const found = all.get(view.job);
      return found ? [{ view, found }] : [];
    })
    .sort((a, b) => Date.parse(a.found.likely ?? '9999') - Date.parse(b.found.likely ?? '9999'))
    .map(
      ({ view, found }) =>
        `${view.job} ${view.opened.vehicle.name}: ${readyWords(found, ground.now, ground.settings.zone)}`,
    );
};
