// Looks into the recorded events of a job: messages in posting order, their latest reading, questions and their state.
import type { JobEvent, JobEventOf } from '../../../shared/event.ts';
import type { Act } from '../../../shared/reading.ts';

export type LoggedMessage = {
  readonly message: string;
  readonly by: string;
  readonly at: string;
  readonly text: string;
  readonly role: string | undefined;
  readonly channel: string;
  readonly revision: number;
  readonly deleted: boolean;
  readonly acts: readonly Act[];
  readonly relied: readonly string[];
  readonly pass: number;
};

const instant = (iso: string): number => Date.parse(iso);

/** Edits may be heard in another order than they were made in. */
const isEditBefore = (
  a: { readonly id: string; readonly at: string },
  b: { readonly id: string; readonly at: string },
): boolean => instant(a.at) < instant(b.at) || (instant(a.at) === instant(b.at) && a.id < b.id);

/** The edits of a message in the order in which they were made, whether it is there or still on the way. */
export const editsOf = (
  events: readonly JobEvent[],
  message: string,
): readonly JobEventOf<'message-edited'>[] =>
  events
    .filter(
      (event): event is JobEventOf<'message-edited'> =>
        event.kind === 'message-edited' && event.message === message,
    )
    .sort((a, b) => (isEditBefore(a, b) ? -1 : 1));

/** Messages in posting order, as they stand now; a removed text reads as empty. */
export const messagesOf = (events: readonly JobEvent[]): readonly LoggedMessage[] => {
  const messages = new Map<string, LoggedMessage>();
  const posted = events.filter((event) => event.kind === 'message-posted');
  for (const event of posted)
    messages.set(event.message, {
      message: event.message,
      by: event.by,
      at: event.at,
      text: event.text ?? '',
      role: event.role,
      channel: event.channel,
      revision: 0,
      deleted: false,
      acts: [],
      relied: [],
      pass: -1,
    });
  const newest = new Map<string, JobEventOf<'message-edited'>>();
  for (const event of events) {
    if (event.kind !== 'message-edited' && event.kind !== 'message-deleted') continue;
    const known = messages.get(event.message);
    if (!known) continue;
    if (event.kind === 'message-deleted') {
      messages.set(event.message, { ...known, deleted: true });
      continue;
    }
    const last = newest.get(event.message);
    const isNewest = last === undefined || isEditBefore(last, event);
    if (isNewest) newest.set(event.message, event);
    messages.set(event.message, {
      ...known,
      text: isNewest ? (event.text ?? '') : known.text,
      revision: known.revision + 1,
      pass: -1,
    });
  }
  for (const message of movedAway(events)) {
    const known = messages.get(message);
    if (known) messages.set(message, { ...known, deleted: true });
  }
  for (const event of events) {
    if (event.kind !== 'message-read') continue;
    const known = messages.get(event.message);
    if (!known || event.revision !== known.revision || event.pass <= known.pass) continue;
    messages.set(event.message, {
      ...known,
      acts: event.acts,
      relied: event.relied,
      pass: event.pass,
    });
  }
  return [...messages.values()].sort(
    (a, b) => instant(a.at) - instant(b.at) || (a.message < b.message ? -1 : 1),
  );
};

/** Messages whose last move took them to another job; they count here as if they were deleted. */
const movedAway = (events: readonly JobEvent[]): ReadonlySet<string> => {
  const job = events.find((event) => event.kind === 'job-opened')?.job;
  const away = new Set<string>();
  const moves = events
    .filter((event) => event.kind === 'message-moved')
    .sort((a, b) => instant(a.at) - instant(b.at));
  for (const { message, to } of moves)
    if (to === job) away.delete(message);
    else away.add(message);
  return away;
};

export type LoggedQuestion = JobEventOf<'question-asked'> & {
  readonly state: 'open' | 'answered' | 'lapsed';
  readonly settled?: JobEventOf<'question-answered'> | JobEventOf<'question-lapsed'>;
};

/** Questions in the order in which they were asked. */
export const questionsOf = (events: readonly JobEvent[]): readonly LoggedQuestion[] => {
  const questions = new Map<string, LoggedQuestion>();
  for (const event of events)
    if (event.kind === 'question-asked' && !questions.has(event.question))
      questions.set(event.question, { ...event, state: 'open' });
  for (const event of events) {
    if (event.kind !== 'question-answered' && event.kind !== 'question-lapsed') continue;
    const known = questions.get(event.question);
    if (known?.state !== 'open') continue;
    questions.set(event.question, {
      ...known,
      state: event.kind === 'question-answered' ? 'answered' : 'lapsed',
      settled: event,
    });
  }
  return [...questions.values()];
};

export type SaidOfFlag = {
  readonly standing: boolean;
  readonly says: string;
  readonly level: string;
  readonly at: string;
  /** The turn in which it was first said in its present standing. */
  readonly turn: string;
};

/** What was last said in the open about each flag, by its identity. */
export const announcedFlags = (events: readonly JobEvent[]): ReadonlyMap<string, SaidOfFlag> => {
  const said = new Map<string, SaidOfFlag>();
  for (const event of events) {
    const known =
      event.kind === 'flag-announced' || event.kind === 'flag-withdrawn'
        ? said.get(event.flag)
        : undefined;
    if (event.kind === 'flag-announced') {
      const goesOn = known?.standing === true && known.level === event.level;
      said.set(event.flag, {
        standing: true,
        says: event.says,
        level: event.level,
        at: goesOn ? known.at : event.at,
        turn: goesOn ? known.turn : event.id.slice(0, event.id.indexOf(':announced:')),
      });
    }
    if (event.kind === 'flag-withdrawn' && known)
      said.set(event.flag, { ...known, standing: false });
  }
  return said;
};
