// Hours of people over a stretch of days: by person and job, as clocked and as booked, with what is to be settled first.
import type { Settings } from '../../../shared/settings.ts';
import { labourOf } from '../../job/state/clock.ts';
import type { JobView } from '../../job/view.ts';
import type { WorkCalendar } from '../../trade/work-calendar.ts';
import { workingMinutes } from '../../trade/working-time.ts';
import type { Between } from '../asking/span.ts';
import { calendarIn } from '../calendar.ts';
import type { Card } from '../card.ts';
import { duration, list } from '../say.ts';

export type PersonHours = {
  readonly who: string;
  readonly minutes: number;
  /** Minutes by job, most first. */
  readonly jobs: readonly (readonly [job: string, minutes: number])[];
  readonly stillOn: readonly string[];
};

export type PeopleHours = {
  readonly people: readonly PersonHours[];
  /** What nobody can count before it is settled: a clock-off that is missing, two jobs at once. */
  readonly questions: readonly string[];
};

/** Without shifts no break is taken off and no clock-off counts as forgotten before 13 hours. */
const calendarFor = (
  settings: Pick<Settings, 'zone'>,
  calendar: WorkCalendar | undefined,
): WorkCalendar | undefined => {
  if (calendar) return calendar;
  const made = calendarIn({ zone: settings.zone });
  return made.ok ? made.value : undefined;
};

/**
 * Hours that began in a stretch of days. Time still running counts until now.
 * @param now milliseconds
 */
export const peopleHours = (
  views: readonly Pick<JobView, 'job' | 'clockings'>[],
  settings: Pick<Settings, 'zone'>,
  shifts: WorkCalendar | undefined,
  span: Pick<Between, 'from' | 'to'>,
  now: number,
): PeopleHours => {
  const calendar = calendarFor(settings, shifts);
  if (!calendar) return { people: [], questions: [] };
  const within = (instant: number): boolean => instant >= span.from && instant < span.to;
  const book = labourOf(views, calendar, now);
  const sums = new Map<string, Map<string, number>>();
  const still = new Map<string, string[]>();
  const add = (who: string, job: string, minutes: number): void => {
    const own = sums.get(who) ?? new Map<string, number>();
    sums.set(who, own.set(job, (own.get(job) ?? 0) + minutes));
  };
  for (const { who, job, from, minutes } of book.bookings) if (within(from)) add(who, job, minutes);
  for (const { who, job, from } of book.open) {
    if (!within(from)) continue;
    const time = workingMinutes(calendar, from, now);
    add(who, job, time.ok ? time.value.working + time.value.outside : 0);
    still.set(who, [...(still.get(who) ?? []), job]);
  }
  for (const { job, clockings } of views)
    for (const { who, instant, minutes } of clockings)
      if (minutes !== undefined && within(instant)) add(who, job, minutes);
  const people = [...sums].map(([who, jobs]): PersonHours => {
    const sorted = [...jobs].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
    return {
      who,
      minutes: sorted.reduce((sum, [, minutes]) => sum + minutes, 0),
      jobs: sorted,
      stillOn: still.get(who) ?? [],
    };
  });
  return {
    people: people.sort((a, b) => b.minutes - a.minutes || (a.who < b.who ? -1 : 1)),
    questions: book.questions.filter(({ at }) => within(at)).map(({ asks }) => asks),
  };
};

const MOST = 12;

const lineOf = ({ who, minutes, jobs, stillOn }: PersonHours): string => {
  const on = jobs.map(
    ([job, own]) => `${duration(own)} on ${job}${stillOn.includes(job) ? ', still on it' : ''}`,
  );
  return `${who}: ${duration(minutes)} (${list(on, 4)})`;
};

/** @param title "Hours this week" */
export const peopleHoursCard = (
  title: string,
  hours: PeopleHours,
  person: string | undefined,
): Card => {
  const shown = hours.people.filter(({ who }) => person === undefined || who === person);
  const asks = hours.questions.filter(
    (question) => person === undefined || question.startsWith(`${person} `),
  );
  if (shown.length === 0 && asks.length === 0) {
    const says = `${title}: nothing booked${person ? ` by ${person}` : ''}. Hours are booked with "start" and "stop", "2.5 h on 1042" or "on it from 7 to 9:30".`;
    return { title, text: says, blocks: [{ kind: 'text', text: says }] };
  }
  const sum = shown.reduce((total, { minutes }) => total + minutes, 0);
  const lines = shown.slice(0, MOST).map((each) => `${lineOf(each)}.`);
  if (shown.length > MOST) lines.push(`and ${shown.length - MOST} more.`);
  const open = asks.slice(0, 3);
  if (asks.length > open.length) open.push(`${asks.length - open.length} more to be settled.`);
  const head = `${duration(sum)} in all, breaks taken off.`;
  return {
    title,
    text: [`${title}: ${head}`, ...lines, ...open].join('\n'),
    blocks: [
      { kind: 'text', text: head },
      { kind: 'list', items: lines },
      ...(open.length > 0 ? [{ kind: 'list' as const, items: open }] : []),
    ],
  };
};
