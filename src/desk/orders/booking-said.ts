// Hours booked in words: "start" and "stop", "2.5 h on 1042", "on it from 7 to 9:30". The whole message, or nothing.
import type { Act } from '../../../shared/reading.ts';
import { inOffset } from '../../job/facts/said-time.ts';
import { addDays, clockReading, localDate } from '../../trade/local-time.ts';
import { type WorkCalendar, workCalendar } from '../../trade/work-calendar.ts';
import { isInShift } from '../../trade/working-time.ts';

export type BookingKnown = {
  /** When it was posted, ISO with offset. */
  readonly at: string;
  readonly zone: string;
  readonly calendar?: WorkCalendar | undefined;
  /** Numbers of the open jobs. */
  readonly jobs: readonly string[];
  /** The job in whose thread it is said; none in the channel. */
  readonly job?: string;
  readonly person: (name: string) => string | undefined;
};

const MINUTE = 60_000;
/** No booking is longer than a day at work; see src/trade/labour.ts. */
const MOST_MINUTES = 13 * 60;

const TIME = '(?:\\d{1,2}(?:[:.h]\\d{2})?\\s*(?:am|pm|uhr)?|noon|midday)';
const HOURS =
  /^(?:(?:book|booked|log|logged|put|put me down for|spent|clocked)\s+)?(\d+(?:[.,]\d+)?)\s*(?:h|hrs?|hours?|std|stunden?)(?:\s*(?:and\s+)?(\d{1,2})\s*(?:m|mins?|minutes?|minuten)?)?$/u;
const MINUTES =
  /^(?:(?:book|booked|log|logged|put|put me down for|spent|clocked)\s+)?(\d{1,3})\s*(?:m|mins?|minutes?|minuten)$/u;
const ROUND =
  /^(?:(?:book|booked|log|logged|put|put me down for|spent|clocked)\s+)?(half an hour|an hour and a half|an hour|one hour)$/u;
const STRETCH = new RegExp(
  `^(?:i\\s+)?(?:was\\s+)?(worked\\s+|working\\s+)?(from\\s+|von\\s+)?(${TIME})\\s*(?:to|till|until|til|-|–|bis)\\s*(${TIME})$`,
  'u',
);
const ON = new RegExp(
  `^(?:i\\s+)?(?:start|clock(?:ing|ed)?\\s+on|clock\\s+me\\s+on|(?:start|starting|started)\\s+work|(starting|started|start))(?:\\s+(?:at|since|from|um|seit)\\s+(${TIME}))?(?:\\s+now)?$`,
  'u',
);
const SINCE = new RegExp(`^(?:since|from|seit)\\s+(${TIME})$`, 'u');
const OFF = new RegExp(
  `^(?:i\\s+)?(?:stop|clock(?:ing|ed)?\\s+off|clock\\s+me\\s+off|knock(?:ing|ed)\\s+off|feierabend|(?:stop|stopping|stopped)\\s+work|(stopping|stopped|off))(?:\\s+(?:at|since|um)\\s+(${TIME}))?(?:\\s+(?:now|for\\s+(?:today|the\\s+day|tonight)))?$`,
  'u',
);
const BEGINS = /^(?:book|log|put|spent|clocked)/u;

type Clock = { readonly minute: number; readonly either: boolean };

/** Minutes after midnight; `either` where morning or afternoon was not said. */
const clockOf = (words: string): Clock | undefined => {
  if (/noon|midday/u.test(words)) return { minute: 720, either: false };
  const match = /^(\d{1,2})(?:[:.h](\d{2}))?\s*(am|pm|uhr)?$/u.exec(words.trim());
  if (!match) return undefined;
  const [, hours = '', minutes, half] = match;
  const typed = Number(hours);
  const rest = Number(minutes ?? 0);
  if (typed > 24 || rest > 59 || typed * 60 + rest > 1440) return undefined;
  const hour = half === 'pm' && typed < 12 ? typed + 12 : half === 'am' && typed === 12 ? 0 : typed;
  const either = half === undefined && typed >= 1 && typed <= 12 && !hours.startsWith('0');
  return { minute: (hour % 24) * 60 + rest, either };
};

const calendarFor = (known: BookingKnown): WorkCalendar | undefined => {
  if (known.calendar) return known.calendar;
  const made = workCalendar({ zone: known.zone, week: {} });
  return made.ok ? made.value : undefined;
};

/**
 * The instants at which the clock showed it, not after `until`, the best first: in a shift before outside one, as typed
 * before twelve hours on, the later day before the earlier.
 */
const instantsOf = (
  { minute, either }: Clock,
  until: number,
  calendar: WorkCalendar,
  day: string | undefined,
  what: 'start' | 'end',
): readonly number[] => {
  const last = localDate(calendar.zone, until);
  const dates = day === undefined ? [last, addDays(last, -1)] : [day, addDays(day, -1)];
  const minutes = either ? [minute, (minute + 720) % 1440] : [minute];
  const all = dates
    .flatMap((date) => minutes.map((each) => clockReading(calendar.zone, date, each).instant))
    .filter((instant) => instant <= until);
  // The end of a shift still belongs to it, and its start is the first minute of it.
  const beside = what === 'end' ? -1 : 0;
  const inShift = all.filter((instant) => isInShift(calendar, instant + beside));
  return [...inShift, ...all.filter((instant) => !inShift.includes(instant))];
};

const minutesSaid = (rest: string): number | undefined => {
  const round = ROUND.exec(rest)?.[1];
  if (round) return /and a half/u.test(round) ? 90 : /half an/u.test(round) ? 30 : 60;
  const minutes = MINUTES.exec(rest)?.[1];
  if (minutes) return Number(minutes);
  const hours = HOURS.exec(rest);
  return hours ? Number(hours[1]?.replace(',', '.')) * 60 + Number(hours[2] ?? 0) : undefined;
};

type Parts = {
  /** What is left once day, person and job are taken out. */
  readonly rest: string;
  readonly day: 'today' | 'yesterday' | undefined;
  readonly by: string | undefined;
  /** The job named; `here` where it is "it" or "this job". */
  readonly job: string | 'here' | undefined;
};

const partsOf = (text: string, known: BookingKnown): Parts | undefined => {
  let rest = text
    .replace(/[’`]/gu, "'")
    .replace(/\s+/gu, ' ')
    .trim()
    .toLowerCase()
    .replace(/[.!]+$/u, '')
    .replace(/^(?:please|ok|right|hi|morning)[,!.]?\s+/u, '');
  if (rest.length === 0 || rest.length > 80 || rest.includes('?')) return undefined;
  const day = /\s(today|yesterday|heute|gestern)$/u.exec(rest);
  if (day) rest = rest.slice(0, day.index);
  const who = /\s(?:for|by)\s([\p{L}'-]+)$/u.exec(rest);
  const by = who?.[1] === undefined ? undefined : known.person(who[1]);
  if (who && by !== undefined) rest = rest.slice(0, who.index);
  const named =
    /(?:^|\s)(?:on|to|for|against|off|auf)\s+(?:(?:job\s*)?#?([a-z]{0,3}-?\d{2,8})(?![:.\d])|it|this one|this job|the job|this|that)(?=\s|$)/u.exec(
      rest,
    ) ??
    /^(?:job\s*)?#?([a-z]{0,3}-?\d{2,8})[:,]?(?=\s)/u.exec(rest) ??
    /(?<=^(?:start|stop|starting|stopping|started|stopped))\s(?:job\s*)?#?(\d{2,8})$/u.exec(rest);
  const job =
    named === null
      ? undefined
      : named[1] === undefined
        ? 'here'
        : known.jobs.find((each) => each.toLowerCase() === named[1]);
  if (named && job === undefined) return undefined;
  if (named) {
    const off = /(?:^|\s)off\s/u.test(named[0]) ? ' off ' : ' ';
    rest = (rest.slice(0, named.index) + off + rest.slice(named.index + named[0].length))
      .replace(/\s+/gu, ' ')
      .trim();
  }
  const said = day?.[1] === undefined ? undefined : /yes|ges/u.test(day[1]) ? 'yesterday' : 'today';
  return { rest, day: said, by, job };
};

/**
 * The clockings a message is: one for hours booked as such, two for a stretch, one for going on or off.
 * @returns undefined where it is none, names a job that is not open, or none at all in the channel
 */
export const bookingSaid = (text: string, known: BookingKnown): readonly Act[] | undefined => {
  const parts = partsOf(text, known);
  const calendar = calendarFor(known);
  const posted = Date.parse(known.at);
  if (!parts || !calendar || Number.isNaN(posted)) return undefined;
  const { rest, job } = parts;
  if (known.job === undefined && (job === undefined || job === 'here')) return undefined;
  const common: Pick<Act, 'job' | 'by'> = {
    ...(job !== undefined && job !== 'here' && job !== known.job ? { job } : {}),
    ...(parts.by === undefined ? {} : { by: parts.by }),
  };
  const act = (more: Pick<Act, 'note' | 'time' | 'quantity'>): Act => ({
    kind: 'clock',
    positions: [],
    ...more,
    ...common,
    assumed: [],
    span: [0, text.length],
  });
  const iso = (instant: number): string => inOffset(instant, calendar.zone.offset(instant));
  const today = localDate(calendar.zone, posted);
  const date = parts.day === undefined ? undefined : addDays(today, parts.day === 'today' ? 0 : -1);

  const minutes = minutesSaid(rest);
  if (minutes !== undefined) {
    if (!(minutes > 0 && minutes <= MOST_MINUTES)) return undefined;
    if (job === undefined && !BEGINS.test(rest)) return undefined;
    const noon =
      parts.day === 'yesterday' && date
        ? { time: iso(clockReading(calendar.zone, date, 720).instant) }
        : {};
    return [act({ note: 'booked', quantity: { value: minutes, unit: 'min' }, ...noon })];
  }
  const stretch = STRETCH.exec(rest);
  if (stretch) {
    const [, worked, from, first = '', second = ''] = stretch;
    if (job === undefined && worked === undefined && from === undefined) return undefined;
    const [begins, ends] = [clockOf(first), clockOf(second)];
    if (!begins || !ends) return undefined;
    // A message may run a little ahead of the clock that stamped it.
    const until = posted + 15 * MINUTE;
    for (const end of instantsOf(ends, until, calendar, date, 'end')) {
      const start = instantsOf(begins, end - 1, calendar, undefined, 'start').find(
        (instant) => end - instant <= MOST_MINUTES * MINUTE,
      );
      if (start !== undefined)
        return [act({ note: 'on', time: iso(start) }), act({ note: 'off', time: iso(end) })];
    }
    return undefined;
  }
  const off = OFF.exec(rest);
  const on = off ? null : ON.exec(rest);
  const since = off || on || job === undefined ? null : SINCE.exec(rest);
  const found = off ?? on ?? since;
  if (!found) return undefined;
  // "Started" and "off" alone are said of the work; with the job named they are said of the time.
  if (!since && found[1] !== undefined && job === undefined) return undefined;
  const words = since ? found[1] : found[2];
  const clock = words === undefined ? undefined : clockOf(words);
  if (words !== undefined && !clock) return undefined;
  const at = clock
    ? instantsOf(clock, posted + 15 * MINUTE, calendar, date, off ? 'end' : 'start')[0]
    : undefined;
  return [act({ note: off ? 'off' : 'on', ...(at === undefined ? {} : { time: iso(at) }) })];
};
