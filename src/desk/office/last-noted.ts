// The message that was noted last: on a channel where a bot can put no sign on a message, the job sheet says so.
import type { JobEvent } from '../../../shared/event.ts';
import { isRecorded } from '../turn/recorded.ts';

export type Noted = { readonly at: string; readonly by: string; readonly text: string };

/** @param events the job's events in order; @returns undefined before anything was noted, or where its text is removed */
export const lastNoted = (events: readonly JobEvent[]): Noted | undefined => {
  const readings = new Map<string, boolean>();
  const texts = new Map<string, string | null>();
  for (const event of events) {
    if (event.kind === 'message-read') readings.set(event.message, event.acts.some(isRecorded));
    if (event.kind === 'message-edited') texts.set(event.message, event.text);
    if (event.kind === 'message-deleted') texts.set(event.message, null);
  }
  const answering = new Set(
    events.flatMap((event) =>
      event.kind === 'question-answered' && event.message !== undefined ? [event.message] : [],
    ),
  );
  for (let index = events.length - 1; index >= 0; index -= 1) {
    const event = events[index];
    if (event?.kind !== 'message-posted') continue;
    if (readings.get(event.message) !== true && !answering.has(event.message)) continue;
    const text = texts.has(event.message) ? texts.get(event.message) : event.text;
    if (text !== null && text !== undefined) return { at: event.at, by: event.by, text };
  }
  return undefined;
};
