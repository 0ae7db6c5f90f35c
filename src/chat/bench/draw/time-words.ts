// Times as people in the workshop read them.
import { DateTime } from 'luxon';
import { html, type Markup } from './html.ts';

/** What every drawing needs to know: the workshop, the time, and who is looking. */
export type Frame = {
  readonly workshop: string;
  readonly zone: string;
  readonly now: string;
  readonly who?: string;
  readonly people: readonly string[];
  /** Pages that are there only where the bench was given what they need. */
  readonly hasPlans: boolean;
  readonly hasDemo: boolean;
};

/** "10:40" today, "Tue 4 Mar, 10:40" on another day; the text itself where it is no time. */
export function timeWords(at: string, frame: Pick<Frame, 'zone' | 'now'>): string {
  const time = DateTime.fromISO(at, { zone: frame.zone, locale: 'en-GB' });
  if (!time.isValid) return at;
  const now = DateTime.fromISO(frame.now, { zone: frame.zone });
  return time.hasSame(now, 'day') ? time.toFormat('HH:mm') : time.toFormat('ccc d LLL, HH:mm');
}

/** A time in its own element, so that programs read it too. */
export function timeMark(at: string, frame: Pick<Frame, 'zone' | 'now'>): Markup {
  return html`<time datetime="${at}">${timeWords(at, frame)}</time>`;
}
