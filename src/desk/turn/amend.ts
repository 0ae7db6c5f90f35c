// A message that was edited or deleted: what it said is read anew or no longer counts; nothing is erased.
import type { JobEvent } from '../../../shared/event.ts';
import type { Post } from '../card.ts';
import { offerFindings } from '../office/findings.ts';
import { questionsFor } from './ask.ts';
import { conclude } from './conclude.ts';
import { checked } from './hear.ts';
import { type JudgedAgain, judgeAgain } from './judge-again.ts';
import { editsOf, messagesOf } from './log.ts';
import { readAgain } from './reading-of.ts';
import { readEdit } from './revisions.ts';
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
  const id = `${edit.id}:edited`;
  if (known?.deleted || state.events.some((event) => event.id === id)) return nothing(state);
  const edited: JobEvent = {
    id,
    at: edit.at,
    by: edit.by,
    kind: 'message-edited',
    message: edit.message,
    text: edit.text,
  };
  // Its message is still on the way, and is read as edited when it comes.
  if (!known) return conclude(state, [edited], [], [], { id: edit.id }, moment);
  const edits = editsOf([...state.events, edited], edit.message);
  const isNewest = edits.at(-1)?.id === id;
  if (isNewest && known.text === edit.text) return nothing(state);
  const reads = readEdit([...state.events, edited], state.view, known, edit.id, moment, id);
  const events: JobEvent[] = [edited, ...reads];
  events.push(...later(state, events, known, edit.id, moment));
  const judged = decidedAnew(state, events, edit, moment);
  events.push(...judged.events);
  // An older text changes from when the newer one counts, and nothing that anybody has to be asked.
  if (!isNewest)
    return conclude(
      state,
      events,
      judged.pieces,
      [],
      { id: edit.id, replyTo: edit.message },
      moment,
    );
  const acts = reads.at(-1)?.acts ?? [];
  const current: JobState = {
    events: [...state.events, ...events],
    view: checked(state, events, moment),
  };
  const asked = questionsFor(
    { id: edit.id, message: edit.message, text: edit.text },
    acts,
    current,
    moment,
  );
  events.push(...asked.events);
  const posts: Post[] = [sign(edit.message, acts.length > 0 ? 'recorded' : 'unrecorded')];
  const found = known.acts.some(({ kind }) => kind === 'finding')
    ? []
    : offerFindings(current.events, current.view, edit.message);
  return conclude(
    state,
    events,
    [...judged.pieces, ...asked.pieces, ...found],
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
  const judged = decidedAnew(state, events, gone, moment);
  events.push(...judged.events);
  return conclude(state, events, judged.pieces, [], { id: gone.id }, moment);
};

/** What people decided in words after a change that is heard only now. */
const decidedAnew = (
  state: JobState,
  events: readonly JobEvent[],
  amendment: Amendment,
  moment: Moment,
): JudgedAgain =>
  judgeAgain(
    { events: [...state.events, ...events], view: state.view },
    { message: '', at: amendment.at },
    moment,
  );

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
