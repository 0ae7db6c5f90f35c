// Decisions in words belong where they were posted. What was released, refused or settled before the report it is about was
// heard counts once the report is there, if that was posted first; who may decide is asked the same again.
import type { JobEvent } from '../../../shared/event.ts';
import type { Act } from '../../../shared/reading.ts';
import { personNamed } from '../workshop.ts';
import { asOf, isPostedAfter, type Place } from './as-of.ts';
import { checkJob } from './check-job.ts';
import { type LoggedMessage, messagesOf } from './log.ts';
import { obey } from './obey.ts';
import type { Asker } from './obeyed.ts';
import type { JobState, Moment, Piece } from './turn.ts';

/**
 * About what people post, which everybody in the channel sees at once. A flag is seen only once it was raised, so nobody
 * can have settled one that was not; and whoever closes a job is there to say it again.
 */
const ABOUT_POSTS: ReadonlySet<Act['command']> = new Set([
  'release',
  'refuse',
  'approve',
  'decline',
]);
const ABOUT_FLAGS: ReadonlySet<Act['command']> = new Set(['override', 'acknowledge']);

const aboutPosts = (act: Act): boolean => act.kind === 'command' && ABOUT_POSTS.has(act.command);

/** Whether an act is judged by what had been posted when it was said, whenever it is heard. */
export const decides = (act: Act): boolean =>
  aboutPosts(act) || (act.kind === 'command' && ABOUT_FLAGS.has(act.command));

const POSTED = ':posted';

const askerOf = (message: LoggedMessage, state: JobState, moment: Moment): Asker | undefined => {
  const posted = state.events.find(
    (event) => event.kind === 'message-posted' && event.message === message.message,
  );
  if (posted?.kind !== 'message-posted' || !posted.id.endsWith(POSTED)) return undefined;
  const roles =
    personNamed(moment.workshop.settings, message.by)?.roles ??
    (posted.role === undefined ? [] : [posted.role]);
  return {
    id: posted.id.slice(0, -POSTED.length),
    message: message.message,
    by: message.by,
    roles,
    text: message.text,
    // What was typed where nobody could see it is decided once it is heard, not before.
    ...(posted.typed === undefined ? { posted: message.at } : {}),
  };
};

export type JudgedAgain = {
  readonly events: readonly JobEvent[];
  readonly pieces: readonly Piece[];
};

/**
 * Judges again what was decided in words after a place in the thread, since what came before has changed. Nothing that
 * was decided is taken back by it; an edited word decides nothing, as when it is heard in time.
 * @param state with every event that is new; its view is made anew
 */
export const judgeAgain = (
  state: Pick<JobState, 'events' | 'view'>,
  since: Place,
  moment: Moment,
): JudgedAgain => {
  const isLate = state.events.some(
    (event) => event.kind === 'message-posted' && isPostedAfter(event, since),
  );
  if (!isLate) return { events: [], pieces: [] };
  const later = messagesOf(state.events).filter(
    (message) =>
      !message.deleted &&
      message.revision === 0 &&
      message.acts.some(aboutPosts) &&
      isPostedAfter(message, since),
  );
  const made: JobEvent[] = [];
  const pieces: Piece[] = [];
  const withMore = (events: readonly JobEvent[]): JobState => ({
    events,
    view: checkJob(state.view.plan, events, moment.now, moment.around),
  });
  let current = later.length > 0 ? withMore(state.events) : state;
  for (const message of later) {
    const asker = askerOf(message, state, moment);
    if (!asker) continue;
    for (const act of message.acts.filter(aboutPosts)) {
      const known = new Set(current.events.map(({ id }) => id));
      const obeyed = obey(asOf(current, message, moment), act, asker, moment);
      const fresh = obeyed.events.filter(({ id }) => !known.has(id));
      if (fresh.length === 0) continue;
      made.push(...fresh);
      pieces.push(...obeyed.pieces);
      current = withMore([...current.events, ...fresh]);
    }
  }
  return { events: made, pieces };
};
