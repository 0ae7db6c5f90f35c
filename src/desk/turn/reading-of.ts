// Reads a message of a job with the context that posting order gives it, whenever it arrives.
import type { JobEvent } from '../../../shared/event.ts';
import type { Act } from '../../../shared/reading.ts';
import type { JobView } from '../../job/view.ts';
import type { ReadContext, ReadResult } from '../../language/context.ts';
import { readMessage } from '../../language/read.ts';
import { isPlaceOnly } from '../answers/parts-off.ts';
import { momentsOf } from '../moments.ts';
import { closingAsked } from '../office/closing.ts';
import { bookingSaid } from '../orders/booking-said.ts';
import { orderOf } from '../orders/order-of.ts';
import { withWaiting } from '../orders/waiting-said.ts';
import { withoutOwnNumber } from '../own-number.ts';
import { personNamed, type Workshop } from '../workshop.ts';
import { messagesOf, questionsOf } from './log.ts';
import { commandOfAsked, workshopQuestion } from './workshop-question.ts';

/** Messages before it that reading may look at. */
const LOOK_BACK = 8;

const isAfter = (a: string, b: string): boolean => Date.parse(a) > Date.parse(b);

const before = (
  a: { readonly at: string; readonly id: string },
  b: { readonly at: string; readonly id: string },
): boolean => {
  const apart = Date.parse(a.at) - Date.parse(b.at);
  return apart < 0 || (apart === 0 && a.id < b.id);
};

/** What the reader may know about one message: nothing that was posted after it. */
export const contextOf = (
  events: readonly JobEvent[],
  view: Pick<JobView, 'positions' | 'opened'>,
  message: { readonly message: string; readonly at: string; readonly by: string },
  workshop: Workshop,
  jobNumbers: readonly string[],
): ReadContext => {
  const here = { at: message.at, id: message.message };
  const earlier = messagesOf(events)
    .filter((other) => !other.deleted && before({ at: other.at, id: other.message }, here))
    .slice(-LOOK_BACK)
    .map((other) => ({
      id: other.message,
      from: 'person' as const,
      by: other.by,
      at: other.at,
      text: other.text,
      acts: other.acts,
    }));
  const pending = questionsOf(events).filter(
    (question) =>
      Date.parse(question.at) <= Date.parse(message.at) &&
      question.message !== message.message &&
      (question.state === 'open' ||
        (question.settled !== undefined &&
          'message' in question.settled &&
          question.settled.message === message.message)),
  );
  return {
    at: message.at,
    by: message.by,
    vehicle: view.opened.vehicle.name,
    previous: earlier,
    pending: pending
      .map((question) => ({
        question: question.question,
        asks: question.asks,
        choices: question.choices,
      }))
      .reverse(),
    people: workshop.settings.people.map((person) => ({
      name: person.name,
      ...(person.also ? { also: person.also } : {}),
    })),
    jobs: jobNumbers,
    moments: momentsOf(workshop.settings),
    positions: [...view.positions.values()].flat(),
  };
};

/** "Wrong job" said of a report is a move, whatever words the language found it in. */
const asMove = (act: Act, job: string): Act =>
  act.kind === 'corrects' && act.job !== undefined && act.job !== job && act.step === undefined
    ? { ...act, kind: 'command', command: 'move-message' }
    : act;

/** Acts read of the end of a text, placed in the whole of it. */
const movedBy = (act: Act, letters: number): Act =>
  letters === 0 ? act : { ...act, span: [act.span[0] + letters, act.span[1] + letters] };

/** A part's place in the workshop, taken for a report of its fitting. */
const onlyPlace = (act: Act, text: string): boolean =>
  (act.kind === 'done' || act.kind === 'started' || act.kind === 'partial') &&
  isPlaceOnly(text.slice(act.span[0], act.span[1]));

/** Reads one message in its place in the thread: an order of the office, else what the language makes of it. */
export const readingOf = (
  events: readonly JobEvent[],
  view: JobView,
  message: {
    readonly message: string;
    readonly at: string;
    readonly by: string;
    readonly text: string;
  },
  workshop: Workshop,
  jobNumbers: readonly string[],
): ReadResult => {
  const bare = withoutOwnNumber(message.text, view.job);
  const order = orderOf(bare, {
    jobs: jobNumbers,
    person: (name) => personNamed(workshop.settings, name)?.name,
    odometerAsked: closingAsked(events.filter(({ at }) => isAfter(message.at, at))) !== undefined,
  });
  if (order) return { acts: [order], relied: [], explained: [] };
  const booked = bookingSaid(bare, {
    at: message.at,
    zone: workshop.settings.zone,
    calendar: workshop.calendar,
    jobs: jobNumbers,
    job: view.job,
    person: (name) => personNamed(workshop.settings, name)?.name,
  });
  const elsewhere = booked?.find(({ job }) => job !== undefined)?.job;
  if (booked && elsewhere === undefined) return { acts: booked, relied: [], explained: [] };
  if (booked && elsewhere !== undefined)
    return {
      acts: [
        {
          kind: 'command',
          command: 'hours-elsewhere',
          positions: [],
          job: elsewhere,
          assumed: [],
          span: [0, message.text.length],
        },
      ],
      relied: [],
      explained: [],
    };
  const asked = workshopQuestion(
    { view },
    { by: message.by, text: bare },
    { workshop, jobNumbers },
  );
  if (asked)
    return {
      acts: [
        {
          kind: 'command',
          command: commandOfAsked(asked),
          positions: [],
          assumed: [],
          span: [0, message.text.length],
        },
      ],
      relied: [],
      explained: [],
    };
  const before = message.text.length - bare.length;
  const read = readMessage(
    bare,
    workshop.lexiconOf(view.plan),
    contextOf(events, view, message, workshop, jobNumbers),
  );
  const acts = withWaiting(
    read.acts.map((act) => asMove(act, view.job)).filter((act) => !onlyPlace(act, message.text)),
    message.text,
    workshop.settings.people.map(({ name }) => name),
    view.blocked.map(({ says, text }) => text ?? says),
  );
  return { ...read, acts: acts.map((act) => movedBy(act, before)) };
};

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

/**
 * Reads again what was posted after a moment, since what came before it has changed.
 * @returns one message-read event for each message that now says something else
 */
export const readAgain = (
  events: readonly JobEvent[],
  view: JobView,
  since: { readonly at: string; readonly message: string },
  turn: { readonly id: string; readonly now: string },
  workshop: Workshop,
  jobNumbers: readonly string[],
): readonly JobEvent[] => {
  const fresh: JobEvent[] = [];
  const later = messagesOf(events).filter(
    (other) =>
      !other.deleted &&
      before({ at: since.at, id: since.message }, { at: other.at, id: other.message }),
  );
  // One that had nothing to rely on when it was read may have now; further on only those that did rely on something.
  const affected = later.filter((other, index) => index < LOOK_BACK || other.relied.length > 0);
  for (const other of affected) {
    const read = readingOf([...events, ...fresh], view, other, workshop, jobNumbers);
    if (same(read.acts, other.acts)) continue;
    fresh.push({
      id: `${turn.id}:again:${other.message}:${other.revision}:${other.pass + 1}`,
      kind: 'message-read',
      at: turn.now,
      by: 'chargehand',
      message: other.message,
      revision: other.revision,
      pass: other.pass + 1,
      acts: [...read.acts],
      relied: [...read.relied],
    });
  }
  return fresh;
};
