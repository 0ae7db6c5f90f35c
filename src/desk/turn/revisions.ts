// What a message said, text by text, however the platform's deliveries change places: an edit may come before its message,
// and an older edit behind a newer one. Each text is read in its place; the newest is what the message says.
import type { JobEvent, JobEventOf } from '../../../shared/event.ts';
import type { JobView } from '../../job/view.ts';
import { editsOf } from './log.ts';
import { readingOf } from './reading-of.ts';
import type { Moment } from './turn.ts';

type Read = JobEventOf<'message-read'>;

/** What became of a message before it was heard. */
export type Before = {
  readonly deleted: boolean;
  readonly edits: readonly JobEventOf<'message-edited'>[];
};

export const amendedBefore = (events: readonly JobEvent[], message: string): Before => ({
  deleted: events.some((event) => event.kind === 'message-deleted' && event.message === message),
  edits: editsOf(events, message),
});

/** The latest reading of each text of a message, by its number. */
const readsOf = (events: readonly JobEvent[], message: string): ReadonlyMap<number, Read> => {
  const reads = new Map<number, Read>();
  for (const event of events) {
    if (event.kind !== 'message-read' || event.message !== message) continue;
    const known = reads.get(event.revision);
    if (known === undefined || event.pass > known.pass) reads.set(event.revision, event);
  }
  return reads;
};

/**
 * Readings for the texts of a message from one of its edits on: of that edit anew, of later ones what they were read as,
 * now that each has moved on by one.
 * @param events with the message and the edit in them
 * @param edit id of the edit's event; from the first one on when left out
 * @returns the reading of the newest text is the last
 */
export const readEdit = (
  events: readonly JobEvent[],
  view: JobView,
  message: { readonly message: string; readonly at: string; readonly by: string },
  turn: string,
  moment: Moment,
  edit?: string,
): readonly Read[] => {
  const edits = editsOf(events, message.message);
  const first = edit === undefined ? 0 : edits.findIndex(({ id }) => id === edit);
  const known = readsOf(events, message.message);
  const made: Read[] = [];
  for (const [index, each] of edits.entries()) {
    if (index < first) continue;
    const revision = index + 1;
    const moved = index > first ? known.get(revision - 1) : undefined;
    const read =
      moved ??
      readingOf(
        events,
        view,
        { ...message, text: each.text ?? '' },
        moment.workshop,
        moment.jobNumbers,
      );
    made.push({
      id: edit !== undefined && index === first ? `${turn}:read` : `${turn}:read:${revision}`,
      at: each.at,
      by: 'chargehand',
      kind: 'message-read',
      message: message.message,
      revision,
      pass: (known.get(revision)?.pass ?? -1) + 1,
      acts: [...read.acts],
      relied: [...read.relied],
    });
  }
  return made;
};
