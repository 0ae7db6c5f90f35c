/**
 * Hours on jobs from clocking on and off. What is not clear is asked, never guessed: a clock-off that is missing, a
 * clock-off without a clock-on, one person on two jobs at once.
 */
import { addDays, localDate, localText, sayMinutes } from './local-time.ts';
import { type Span, shiftsOn, type WorkCalendar } from './work-calendar.ts';
import { union, workingMinutes } from './working-time.ts';

/** Milliseconds since 1970 UTC throughout. */
export type ClockEntry = {
  readonly who: string;
  readonly job: string;
  readonly at: number;
  readonly kind: 'on' | 'off';
};

export type Booking = Span & {
  readonly who: string;
  readonly job: string;
  /** Real minutes less the breaks of the calendar. */
  readonly minutes: number;
  /** Of these, minutes outside every shift. */
  readonly outsideShift: number;
};

/** Somebody at work now: clocked on, not off, and their shift not over. */
export type OpenBooking = { readonly who: string; readonly job: string; readonly from: number };

export type LabourQuestion = {
  readonly kind: 'no-clock-off' | 'no-clock-on' | 'overlap';
  readonly who: string;
  readonly job: string;
  /** What it is about: the clock-on, the clock-off, or the beginning of the overlap. */
  readonly at: number;
  readonly asks: string;
};

export type LabourBook = {
  readonly bookings: readonly Booking[];
  readonly open: readonly OpenBooking[];
  readonly questions: readonly LabourQuestion[];
};

/** Someone still clocked on this long after their shift's end has forgotten to clock off: 30 minutes, ours, no source. */
const GRACE = 30 * 60_000;
/**
 * No day at work is longer than this: 24 hours less the 11 of daily rest in Directive 2003/88/EC, article 3 (from
 * memory). Longer bookings are asked about and counted nowhere.
 */
const LONGEST = 13 * 3_600_000;

/**
 * Makes bookings of clock entries, in any order of arrival.
 *
 * @param until the moment of asking; entries after it are left out.
 */
export function bookLabour(
  entries: readonly ClockEntry[],
  calendar: WorkCalendar,
  until: number,
): LabourBook {
  const bookings: Booking[] = [];
  const open: OpenBooking[] = [];
  const questions: LabourQuestion[] = [];
  const say = (instant: number) => localText(calendar.zone, instant);
  const forgotten = (on: ClockEntry, because: string) =>
    questions.push({
      kind: 'no-clock-off',
      who: on.who,
      job: on.job,
      at: on.at,
      asks: `${on.who} clocked on to job ${on.job} at ${say(on.at)} and ${because}. When did that work stop? It is not counted until then.`,
    });
  // At one instant a clock-off goes first: off one job and on to the next in the same minute.
  const inOrder = entries
    .filter((entry) => entry.at <= until)
    .sort((a, b) => a.at - b.at || (a.kind === b.kind ? 0 : a.kind === 'off' ? -1 : 1));
  const running = new Map<string, ClockEntry>();
  for (const entry of inOrder) {
    const key = JSON.stringify([entry.who, entry.job]);
    const on = running.get(key);
    if (entry.kind === 'on') {
      if (on) forgotten(on, `again at ${say(entry.at)}`);
      running.set(key, entry);
      continue;
    }
    running.delete(key);
    if (!on) {
      questions.push({
        kind: 'no-clock-on',
        who: entry.who,
        job: entry.job,
        at: entry.at,
        asks: `${entry.who} clocked off job ${entry.job} at ${say(entry.at)} without clocking on. When did that work start? It is not counted until then.`,
      });
    } else if (entry.at - on.at > LONGEST) {
      forgotten(
        on,
        `off only at ${say(entry.at)}, ${sayMinutes((entry.at - on.at) / 60_000)} later`,
      );
    } else {
      bookings.push(booking(on, entry.at, calendar));
    }
  }
  for (const on of running.values()) {
    const end = shiftEnd(calendar, on.at);
    if (until - on.at > LONGEST) forgotten(on, 'has no clock-off');
    else if (end !== undefined && until > end + GRACE) {
      forgotten(on, `has no clock-off; the shift ended at ${say(end)}`);
    } else open.push({ who: on.who, job: on.job, from: on.at });
  }
  const started = [...bookings, ...open.map((o) => ({ ...o, to: until }))];
  return { bookings, open, questions: [...questions, ...overlaps(started, say)] };
}

function booking(on: ClockEntry, to: number, calendar: WorkCalendar): Booking {
  const time = workingMinutes(calendar, on.at, to);
  const { working, outside } = time.ok
    ? time.value
    : { working: 0, outside: (to - on.at) / 60_000 };
  return {
    who: on.who,
    job: on.job,
    from: on.at,
    to,
    minutes: working + outside,
    outsideShift: outside,
  };
}

/** The latest end of the shifts that run at an instant, or of one that begins within the hour after it. */
function shiftEnd(calendar: WorkCalendar, instant: number): number | undefined {
  const today = localDate(calendar.zone, instant);
  const ends = [-1, 0, 1]
    .flatMap((days) => shiftsOn(calendar, addDays(today, days)))
    .filter((shift) => shift.from <= instant + 3_600_000 && shift.to > instant)
    .map((shift) => shift.to);
  return ends.length > 0 ? Math.max(...ends) : undefined;
}

function overlaps(
  list: readonly (Span & { readonly who: string; readonly job: string })[],
  say: (instant: number) => string,
): readonly LabourQuestion[] {
  const sorted = [...list].sort((a, b) => a.from - b.from);
  return sorted.flatMap((second, index) =>
    sorted
      .slice(0, index)
      .filter(
        (first) => first.who === second.who && first.job !== second.job && first.to > second.from,
      )
      .map((first): LabourQuestion => {
        const minutes = (Math.min(first.to, second.to) - second.from) / 60_000;
        return {
          kind: 'overlap',
          who: second.who,
          job: second.job,
          at: second.from,
          asks: `${second.who} is on job ${first.job} since ${say(first.from)} and on job ${second.job} since ${say(second.from)}, ${sayMinutes(minutes)} on both. Did job ${first.job} stop then?`,
        };
      }),
  );
}

export type LabourTotal = {
  /** Person-minutes booked and closed. */
  readonly booked: number;
  /** Minutes in which at least one person was on the job. */
  readonly manned: number;
  /** Person-minutes by name. */
  readonly byPerson: ReadonlyMap<string, number>;
  /** Booked less planned, above 0 when over; null without a plan. */
  readonly over: number | null;
  readonly answer: string;
};

/** Hours booked on a job against hours planned (person-minutes). Open and unsettled time is named, not counted. */
export function labourTotal(book: LabourBook, job: string, planned?: number): LabourTotal {
  const own = book.bookings.filter((b) => b.job === job);
  const booked = own.reduce((sum, b) => sum + b.minutes, 0);
  const manned = union(own).reduce((sum, span) => sum + span.to - span.from, 0) / 60_000;
  const byPerson = new Map<string, number>();
  for (const b of own) byPerson.set(b.who, (byPerson.get(b.who) ?? 0) + b.minutes);
  const over = planned === undefined ? null : booked - planned;
  const open = book.open.filter((o) => o.job === job).length;
  const asked = book.questions.filter((q) => q.job === job).length;
  const against =
    planned === undefined || over === null
      ? 'no time planned'
      : `${sayMinutes(planned)} planned, ${over > 0 ? `${sayMinutes(over)} over` : `${sayMinutes(-over)} left`}`;
  const rest = [
    `breaks taken off`,
    open > 0 ? `${open} still clocked on and not counted` : '',
    asked > 0 ? `${asked} to be settled first` : '',
  ].filter((part) => part !== '');
  const people = byPerson.size === 1 ? '1 person' : `${byPerson.size} people`;
  const answer = `${sayMinutes(booked)} booked on job ${job} by ${people}, ${against}; ${rest.join(', ')}.`;
  return { booked, manned, byPerson, over, answer };
}
