// A job as it was when a message had been posted: for what people decide in words that are heard late, or before what they
// are about.
import type { JobEvent } from '../../../shared/event.ts';
import { checkJob } from './check-job.ts';
import type { JobState, Moment } from './turn.ts';

/** A place in the order of posting. */
export type Place = { readonly message: string; readonly at: string };

const instant = (iso: string): number => Date.parse(iso);

/** Whether a comes after b in the order of posting. */
export const isPostedAfter = (a: Place, b: Place): boolean => {
  const apart = instant(a.at) - instant(b.at);
  return apart > 0 || (apart === 0 && a.message > b.message);
};

/**
 * The events without what people posted, changed, answered or decided after a message was posted. How earlier messages
 * are understood stays as it is known now: a reading that was made late is of words that stood there then.
 */
const eventsUntil = (events: readonly JobEvent[], here: Place): readonly JobEvent[] => {
  const end = instant(here.at);
  const there = new Set<string>();
  const edits = new Map<string, number>();
  for (const event of events) {
    if (event.kind === 'message-posted' && !isPostedAfter(event, here)) there.add(event.message);
    if (event.kind === 'message-edited' && instant(event.at) <= end)
      edits.set(event.message, (edits.get(event.message) ?? 0) + 1);
  }
  return events.filter((event) => {
    switch (event.kind) {
      case 'job-opened':
        return true;
      case 'message-posted':
      case 'photo-kept':
      case 'question-asked':
        return there.has(event.message);
      case 'message-read':
        return there.has(event.message) && event.revision <= (edits.get(event.message) ?? 0);
      case 'question-answered':
        return event.message === undefined ? instant(event.at) <= end : there.has(event.message);
      default:
        return instant(event.at) <= end;
    }
  });
};

/** The job as it was at a message; the very state where nothing came after it. */
export const asOf = (state: JobState, here: Place, moment: Moment): JobState => {
  const events = eventsUntil(state.events, here);
  if (events.length === state.events.length) return state;
  return { events, view: checkJob(state.view.plan, events, here.at, moment.around) };
};
