// A message that was edited or deleted: what it said is read anew or no longer counts; nothing is erased.
import type { JobEvent } from '../../../shared/event.ts';
import type { Post } from '../card.ts';
import { offerFindings } from '../office/findings.ts';
import { questionsFor } from './ask.ts';
import { conclude } from './conclude.ts';
import { checked } from './hear.ts';
import { messagesOf } from './log.ts';
import { readAgain, readingOf } from './reading-of.ts';
import type { JobState, Moment, Turn } from './turn.ts';

type Amendment = {
  readonly id: string;
  /** The message that is amended. */
  readonly message: string;
  readonly at: string;
  readonly by: string;
};

const nothing = (state: JobState): Turn => ({ state, events: [], posts: [] });

/** Takes an edit. An edit to the same text, as link previews cause, changes nothing. */
export const takeEdit = (
  state: JobState,
  edit: Amendment & { readonly text: string },
  moment: Moment,
): Turn => {
  const known = messagesOf(state.events).find((message) => message.message === edit.message);
  if (!known || known.deleted || known.text === edit.text) return nothing(state);
  const edited: JobEvent = {
    id: `${edit.id}:edited`,
    at: edit.at,
    by: edit.by,
    kind: 'message-edited',
    message: edit.message,
    text: edit.text,
  };
  const events: JobEvent[] = [edited];
  const read = readingOf(
    [...state.events, edited],
    state.view,
    { ...known, text: edit.text },
    moment.workshop,
    moment.jobNumbers,
  );
  events.push({
    id: `${edit.id}:read`,
    at: edit.at,
    by: 'chargehand',
    kind: 'message-read',
    message: edit.message,
    revision: known.revision + 1,
    pass: 0,
    acts: [...read.acts],
    relied: [...read.relied],
  });
  events.push(...later(state, events, known, edit.id, moment));
  const current: JobState = {
    events: [...state.events, ...events],
    view: checked(state, events, moment),
  };
  const asked = questionsFor(
    { id: edit.id, message: edit.message, text: edit.text },
    read.acts,
    current,
    moment,
  );
  events.push(...asked.events);
  const posts: Post[] = [sign(edit.message, read.acts.length > 0 ? 'recorded' : 'unrecorded')];
  const found = known.acts.some(({ kind }) => kind === 'finding')
    ? []
    : offerFindings(current.events, current.view, edit.message);
  return conclude(
    state,
    events,
    [...asked.pieces, ...found],
    posts,
    { id: edit.id, replyTo: edit.message },
    moment,
  );
};

/** Takes a deletion: what rests on the message is left without a record; the log keeps that it was there. */
export const takeDelete = (state: JobState, gone: Amendment, moment: Moment): Turn => {
  const known = messagesOf(state.events).find((message) => message.message === gone.message);
  const isGone = state.events.some(
    (event) => event.kind === 'message-deleted' && event.message === gone.message,
  );
  if (known?.deleted || isGone) return nothing(state);
  const events: JobEvent[] = [
    {
      id: `${gone.id}:deleted`,
      at: gone.at,
      by: gone.by,
      kind: 'message-deleted',
      message: gone.message,
    },
  ];
  // Its message is still on the way: when it comes it is deleted already.
  if (!known) return conclude(state, events, [], [], { id: gone.id }, moment);
  events.push(...later(state, events, known, gone.id, moment));
  return conclude(state, events, [], [], { id: gone.id }, moment);
};

const later = (
  state: JobState,
  events: readonly JobEvent[],
  known: { readonly at: string; readonly message: string },
  turn: string,
  moment: Moment,
): readonly JobEvent[] =>
  readAgain(
    [...state.events, ...events],
    state.view,
    known,
    { id: turn, now: moment.now },
    moment.workshop,
    moment.jobNumbers,
  );

const sign = (message: string, mark: 'recorded' | 'unrecorded'): Post => ({
  key: `sign:${message}:${mark}`,
  to: { where: 'thread' },
  sign: { message, mark },
  edit: false,
  urgent: false,
});
