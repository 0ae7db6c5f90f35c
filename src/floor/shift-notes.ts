// Gives the shift notes at their times, once each: what was given is kept in a mark, so that a restart repeats nothing and
// leaves nothing out that is still worth reading.
import type { PastJob } from '../desk/answers/history.ts';
import type { Needs } from '../desk/asking/answer-asked.ts';
import type { Card } from '../desk/card.ts';
import type { PastJobs } from '../desk/forecast/forecast.ts';
import { type DueNote, nextNote, notesDue } from '../desk/notes/due.ts';
import { noteCard } from '../desk/notes/shift-note.ts';
import type { Workshop } from '../desk/workshop.ts';
import type { JobView } from '../job/view.ts';
import type { Schedule } from '../schedule/timers.ts';
import type { JobStore } from '../store/job-store.ts';

export type ShiftNoteParts = {
  readonly store: Pick<JobStore, 'mark' | 'setMark'>;
  readonly schedule: Schedule;
  readonly clock: () => string;
  readonly workshop: () => Workshop;
  /** The open jobs, and those closed since a time. */
  readonly jobsSince: (needs: Needs) => Promise<{
    readonly now: string;
    readonly openJobs: readonly JobView[];
    readonly pastJobs: readonly PastJob[];
    readonly paces: PastJobs | undefined;
  }>;
  /** Looks at every open job: as a shift ends its jobs are handed over before the note is given. */
  readonly lookAtAll: () => Promise<void>;
  /** Says a card in the common place of each channel; one that may have gone out already is looked for first. */
  readonly tell: (key: string, card: Card) => Promise<void>;
  /** Runs one look at a time, where it can be waited for. */
  readonly inTurn: (look: () => Promise<void>) => Promise<void>;
  readonly log: (level: 'info' | 'warn' | 'error', what: string, more?: object) => void;
};

export const MARK = 'notes-until';
const KEY = 'shift-notes';
/** Shifts may be changed in the settings while it runs, so a look is never further off than this. */
const LONGEST = 6 * 3_600_000;

/** Hours are told to everybody only where everybody may see them. */
const openHours = ({ settings }: Workshop): boolean => {
  const shown = settings.hours?.['shown-to'] ?? ['controller', 'manager'];
  return settings.people.every(({ roles }) => roles.some((role) => shown.includes(role)));
};

/** @returns a look to be taken at the start; from then on it looks by itself */
export const shiftNotes = (parts: ShiftNoteParts): (() => Promise<void>) => {
  const { store, schedule, clock, workshop } = parts;

  const give = async (note: DueNote): Promise<void> => {
    if (note.kind === 'shift-end') await parts.lookAtAll();
    const since = new Date(note.from).toISOString();
    const { now, openJobs, pastJobs, paces } = await parts.jobsSince({ since });
    const card = noteCard(note, openJobs, pastJobs, {
      workshop: workshop(),
      now,
      hours: openHours(workshop()),
      ...(paces ? { past: paces } : {}),
    });
    if (card) await parts.tell(`note:${note.key}`, card);
  };

  const again = (): void => {
    const { calendar, settings } = workshop();
    if (!calendar) return;
    const now = Date.parse(clock());
    const next = nextNote(calendar, settings.notes, now) ?? now + LONGEST;
    schedule.at(
      KEY,
      new Date(Math.min(next, now + LONGEST)).toISOString(),
      () => void parts.inTurn(look),
    );
  };

  const look = async (): Promise<void> => {
    try {
      const { calendar, settings } = workshop();
      if (!calendar) return;
      const now = clock();
      const kept = await store.mark(MARK);
      const since = kept === undefined ? undefined : Date.parse(kept);
      for (const note of notesDue(calendar, settings.notes, since, Date.parse(now)))
        await give(note);
      await store.setMark(MARK, now);
    } catch (error) {
      parts.log('error', 'a shift note could not be given', { why: (error as Error).message });
    } finally {
      again();
    }
  };
  return () => parts.inTurn(look);
};
