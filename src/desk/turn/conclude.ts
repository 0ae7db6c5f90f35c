// The end of every turn: check, announce flags, ask what the checker wants to know, refresh the job sheet, reply once.
import type { JobEvent } from '../../../shared/event.ts';
import type { Post } from '../card.ts';
import { gather } from '../cards/gather.ts';
import { sheetCard } from '../cards/job-sheet.ts';
import { announce } from './announce.ts';
import { checkJob } from './check-job.ts';
import { nextLook } from './next-look.ts';
import { standingReply, turnsSettled } from './standing-reply.ts';
import type { JobState, Moment, Piece, Turn } from './turn.ts';

/**
 * @param made events of the turn so far, not yet in `state`
 * @param turn its id, unique; `replyTo` the message that the reply belongs to
 */
export const conclude = (
  state: JobState,
  made: readonly JobEvent[],
  pieces: readonly Piece[],
  posts: readonly Post[],
  turn: { readonly id: string; readonly replyTo?: string },
  moment: Moment,
): Turn => {
  const first = [...state.events, ...made];
  const view =
    made.length === 0 && state.view.lastEventAt === moment.now
      ? state.view
      : checkJob(state.view.plan, first, moment.now, moment.around);
  const announced = announce(first, view, turn.id, moment);
  const events = [...made, ...announced.events];
  const reply = gather([...pieces, ...announced.pieces]);
  const touched = new Set([...turnsSettled(state.events, first), ...announced.touched]);
  touched.delete(turn.id);
  const after = [...state.events, ...events];
  const all: Post[] = [
    ...announced.posts,
    ...posts,
    ...[...touched].map((each) => standingReply(after, view, each)),
  ];
  if (reply)
    all.push({
      key: `reply:${turn.id}`,
      to: { where: 'thread' },
      card: reply,
      edit: true,
      urgent: reply.level === 'stop',
    });
  const { zone } = moment.workshop.settings;
  const sheet = sheetCard(view, moment.now, zone, { events: after, around: moment.around });
  const before =
    state.events.length === 0
      ? undefined
      : (state.sheet ??
        sheetCard(state.view, moment.now, zone, { events: state.events, around: moment.around })
          .text);
  if (sheet.text !== before)
    all.push({
      key: 'sheet',
      to: { where: 'channel' },
      card: sheet,
      edit: true,
      urgent: false,
      pin: true,
    });
  const again = nextLook({ events: after, view }, moment, announced.again);
  return {
    state: { events: after, view, sheet: sheet.text },
    events,
    posts: all,
    ...(again === undefined ? {} : { again }),
  };
};
